package indwell.usecase;

import indwell.domain.refusal.IssueCode;
import indwell.domain.rule.DayTraces;
import indwell.domain.rule.Trace;
import indwell.domain.time.DayNumber;
import indwell.domain.timeline.CatheterDay;
import indwell.domain.timeline.EligibilityCount;
import indwell.domain.timeline.Placement;
import indwell.domain.timeline.Remark;
import indwell.domain.timeline.Stay;
import indwell.domain.timeline.Timeline;
import indwell.port.ClinicalStore;
import indwell.port.ResourceKey;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/** The catheter days of one patient: the eligibility count of the latest stay. */
public final class CatheterDays {
  private final ClinicalStore store;
  private final Facility facility;

  public CatheterDays(ClinicalStore store, Facility facility) {
    this.store = store;
    this.facility = facility;
  }

  /**
   * The answer.
   *
   * @param days the dates of the latest stay begun at or before {@code asOf}; empty without one
   * @param traces for each of the days why its number, why eligible or not, and why its ward
   * @param openSince insertion of the longest-standing catheter in place that counts
   * @param catheterDay its day, the insertion day being day 1
   */
  public record Days(
      Instant asOf,
      List<CatheterDay> days,
      List<List<Trace>> traces,
      Optional<Instant> openSince,
      Optional<DayNumber> catheterDay,
      List<Remark> remarks) {}

  /**
   * Counts by what had happened at {@code asOf}.
   *
   * @param patientId id of the FHIR Patient
   * @param now an {@code asOf} after it is refused
   */
  public Asked<Days> of(String patientId, Instant asOf, Instant now) {
    if (asOf.isAfter(now)) {
      return Asked.refuse(
          IssueCode.BAD_PARAMETER,
          "asOf",
          "The time " + asOf + " has not come; expected a time at or before " + now + ".");
    }
    return store.read(
        state ->
            state.resource(new ResourceKey("Patient", patientId)).isEmpty()
                ? Asked.refuse(
                    IssueCode.NOT_FOUND,
                    "id",
                    "Patient/"
                        + patientId
                        + " is not known; expected a patient that an event named.")
                : Asked.answer(
                    days(Timeline.asOf(PatientTimelines.eventsOf(state, patientId), asOf), asOf)));
  }

  private Days days(Timeline timeline, Instant asOf) {
    EligibilityCount count = new EligibilityCount(timeline, facility.calendar());
    Optional<Stay> latest = timeline.latestStayBegunBy(asOf);
    List<CatheterDay> days = latest.map(stay -> count.days(stay, asOf)).orElse(List.of());
    List<List<Trace>> traces =
        latest
            .map(stay -> new DayTraces(timeline, stay, facility.calendar()).of(days))
            .orElse(List.of());
    Optional<Instant> openSince =
        timeline.placements().stream()
            .filter(one -> one.placing().countsForSurveillance() && one.inPlaceAt(asOf))
            .map(Placement::start)
            .min(Comparator.naturalOrder());
    return new Days(
        asOf,
        days,
        traces,
        openSince,
        openSince.map(since -> DayNumber.inPlace(since, asOf, facility.calendar())),
        Remarks.inOrder(timeline.remarks()));
  }
}
