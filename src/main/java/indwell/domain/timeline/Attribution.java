package indwell.domain.timeline;

import indwell.domain.event.Ward;
import indwell.domain.time.FacilityCalendar;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Optional;

/**
 * Where an event of a given date is attributed: the first inpatient ward of the day before; on the
 * stay's first inpatient date, the first of that date; nowhere before.
 *
 * <p>Rule ATT-1. Source: NHSN manual chapter 2, Location of Attribution and Transfer Rule (rules L1
 * to L3).
 */
final class Attribution {
  private final Stay stay;
  private final FacilityCalendar calendar;

  Attribution(Stay stay, FacilityCalendar calendar) {
    this.stay = stay;
    this.calendar = calendar;
  }

  /** The date on which the patient first was in an inpatient ward of the stay. */
  Optional<LocalDate> firstInpatientDate() {
    return stay.firstInpatient().map(ward -> calendar.dateOf(ward.span().start()));
  }

  Optional<Ward> wardOf(LocalDate date) {
    return of(date).map(WardStay::ward);
  }

  /** The time in a ward by which an event of that date is attributed. */
  Optional<WardStay> of(LocalDate date) {
    Optional<LocalDate> first = firstInpatientDate();
    if (first.isEmpty() || date.isBefore(first.get())) {
      return Optional.empty();
    }
    return firstInpatientWardOn(date.equals(first.get()) ? date : date.minusDays(1));
  }

  private Optional<WardStay> firstInpatientWardOn(LocalDate date) {
    Instant from = calendar.startOf(date);
    Instant to = calendar.startOf(date.plusDays(1));
    return stay.wards().stream()
        .filter(WardStay::inpatient)
        .filter(ward -> ward.span().touches(from, to))
        .findFirst();
  }
}
