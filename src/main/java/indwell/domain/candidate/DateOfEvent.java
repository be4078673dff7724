package indwell.domain.candidate;

import indwell.domain.rule.RuleId;
import indwell.domain.rule.Trace;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/**
 * The date of event: that of the first element, within the window, that the criterion is met with.
 * The culture is one of the elements, so it is never later than the culture.
 *
 * <p>Rule EVENT-1. Source: NHSN manual chapter 2, date of event (rule P3; restated, Taiwan CDC); an
 * element before the admission is recorded on the first hospital day (rule P4; published).
 *
 * @param firstElement the date on which the first element was
 * @param date the date of event
 */
public record DateOfEvent(LocalDate firstElement, LocalDate date) {

  /**
   * Of a culture and the other element of a criterion.
   *
   * @param other date of the other element, within the window
   * @param admission the first inpatient date of the stay, if there is one
   */
  public static DateOfEvent of(LocalDate culture, LocalDate other, Optional<LocalDate> admission) {
    LocalDate first = other.isBefore(culture) ? other : culture;
    return new DateOfEvent(first, admission.filter(first::isBefore).orElse(first));
  }

  Trace trace() {
    String sentence =
        firstElement.equals(date)
            ? "Date of event " + date + ": the first element within the window."
            : "Date of event "
                + date
                + ", the first hospital day: the first element, on "
                + firstElement
                + ", lies before the admission.";
    return new Trace(RuleId.EVENT_1, sentence, List.of());
  }
}
