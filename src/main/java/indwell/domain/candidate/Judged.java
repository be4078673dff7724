package indwell.domain.candidate;

import indwell.domain.event.BusinessId;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/** A culture, looked at in one stay or in none, and what every criterion says of it. */
record Judged(CultureWorkup workup, List<CriterionResult> criteria) {

  static Judged of(CultureWorkup workup) {
    return new Judged(workup, AllCriteria.judge(workup));
  }

  /** The criterion that it is a candidate by. */
  Optional<CriterionResult> chosen() {
    return AllCriteria.chosen(criteria);
  }

  Optional<DateOfEvent> dateOfEvent() {
    return chosen().flatMap(CriterionResult::dateOfEvent);
  }

  LocalDate collectedOn() {
    return workup.culture().collectedOn();
  }

  LocalDate dateOfEventOrCulture() {
    return dateOfEvent().map(DateOfEvent::date).orElseGet(this::collectedOn);
  }

  Optional<BusinessId> encounter() {
    return workup.stay().map(HospitalStay::encounter);
  }

  /** Whether a criterion is met and its date of event belongs to the stay looked at. */
  boolean liesInItsStay() {
    return dateOfEvent()
        .flatMap(date -> workup.stay().filter(stay -> stay.holds(date.date())))
        .isPresent();
  }

  /** Whether the date of the culture belongs to the stay looked at; so does its date of event. */
  boolean collectedInItsStay() {
    return workup.stay().filter(stay -> stay.holds(collectedOn())).isPresent();
  }
}
