package indwell.domain.candidate;

import java.time.Instant;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * What a person asks about one patient. All dates are local ones of the facility.
 *
 * @param earlier urinary events that stand already
 * @param surgeryEndedAt the end of an operation, to be asked about the removal after it
 */
public record CandidateQuestion(
    Age age,
    List<UrineCulture> cultures,
    List<Finding> findings,
    List<BloodCulture> blood,
    List<EarlierEvent> earlier,
    Optional<Instant> surgeryEndedAt) {
  public CandidateQuestion {
    cultures = List.copyOf(cultures);
    findings = List.copyOf(findings);
    blood = List.copyOf(blood);
    earlier = List.copyOf(earlier);
  }

  /** The last date that can be a date of event: a culture may come before its admission. */
  LocalDate through() {
    return cultures.stream()
        .map(UrineCulture::collectedOn)
        .max(Comparator.naturalOrder())
        .map(last -> last.plusDays(InfectionWindow.DATES_BEFORE_ADMISSION))
        .orElse(LocalDate.MIN);
  }
}
