package indwell.domain.candidate;

import indwell.domain.event.BusinessId;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/** A culture, looked at in one stay or in none, and what every criterion says of it. */
record Judged(Evidence evidence, List<CriterionResult> criteria) {

  static Judged of(Evidence evidence) {
    return new Judged(evidence, AllCriteria.judge(evidence));
  }

  /** The criterion that it is a candidate by. */
  Optional<CriterionResult> chosen() {
    return AllCriteria.chosen(criteria);
  }

  Optional<DateOfEvent> dateOfEvent() {
    return chosen().flatMap(CriterionResult::dateOfEvent);
  }

  LocalDate collectedOn() {
    return evidence.culture().collectedOn();
  }

  LocalDate dateOfEventOrCulture() {
    return dateOfEvent().map(DateOfEvent::date).orElseGet(this::collectedOn);
  }

  Optional<BusinessId> encounter() {
    return evidence.stay().map(HospitalStay::encounter);
  }

  /** Whether a criterion is met and its date of event belongs to the stay looked at. */
  boolean liesInItsStay() {
    return dateOfEvent()
        .flatMap(date -> evidence.stay().filter(stay -> stay.holds(date.date())))
        .isPresent();
  }

  /** Whether the date of the culture belongs to the stay looked at; so does its date of event. */
  boolean collectedInItsStay() {
    return evidence.stay().filter(stay -> stay.holds(collectedOn())).isPresent();
  }
}
