package indwell.domain.candidate;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.rule.DayTraces;
import indwell.domain.rule.Trace;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.timeline.CatheterDay;
import indwell.domain.timeline.EligibilityCount;
import indwell.domain.timeline.Stay;
import indwell.domain.timeline.Timeline;
import indwell.domain.timeline.WardStay;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * A stay with an inpatient date, as the rules of candidates look at it: from two dates before the
 * admission through the date after the discharge.
 */
final class HospitalStay {
  /** A discharge date and the next one still belong to the stay (rules L2, E11; published). */
  private static final int DATES_AFTER_DISCHARGE = 1;

  private final BusinessId encounter;
  private final LocalDate admission;
  private final Optional<LocalDate> end;
  private final List<BedsideEvent> admittedBy;
  private final LocalDate firstDate;
  private final List<CatheterDay> days;
  private final List<List<Trace>> traces;

  private HospitalStay(Timeline timeline, FacilityCalendar calendar, Stay stay, LocalDate through) {
    EligibilityCount count = new EligibilityCount(timeline, calendar);
    this.encounter = stay.encounter();
    this.admission = count.firstInpatientDate(stay).orElseThrow();
    this.end = stay.end().map(calendar::dateOf);
    this.admittedBy =
        stay.firstInpatient().map(WardStay::by).stream()
            .flatMap(key -> timeline.events().stream().filter(event -> event.key().equals(key)))
            .toList();
    this.firstDate = calendar.dateOf(stay.start());
    this.days = count.days(stay, calendar.startOf(through));
    this.traces = new DayTraces(timeline, stay, calendar).of(days);
  }

  /**
   * The stays that have an inpatient date, ascending.
   *
   * @param through no date after it is asked for
   */
  static List<HospitalStay> of(Timeline timeline, FacilityCalendar calendar, LocalDate through) {
    return timeline.stays().stream()
        .filter(stay -> stay.firstInpatient().isPresent())
        .map(stay -> new HospitalStay(timeline, calendar, stay, through))
        .toList();
  }

  BusinessId encounter() {
    return encounter;
  }

  /** The first inpatient date: hospital day 1. */
  LocalDate admission() {
    return admission;
  }

  /** The movement that made it one. */
  List<BedsideEvent> admittedBy() {
    return admittedBy;
  }

  /** Whether the date is no earlier than what the stay looks back to. */
  boolean reachesBackTo(LocalDate date) {
    return !date.isBefore(admission.minusDays(InfectionWindow.DATES_BEFORE_ADMISSION));
  }

  /** Whether an event of that date belongs to the stay. */
  boolean holds(LocalDate dateOfEvent) {
    return reachesBackTo(dateOfEvent)
        && end.filter(last -> dateOfEvent.isAfter(last.plusDays(DATES_AFTER_DISCHARGE))).isEmpty();
  }

  /** The date as the eligibility count sees it; empty outside the dates of the stay. */
  Optional<CatheterDay> day(LocalDate date) {
    return index(date).stream().mapToObj(days::get).findFirst();
  }

  /** Why the date has its number, is eligible or not, and is attributed where it is. */
  List<Trace> traces(LocalDate date) {
    return index(date).stream().mapToObj(traces::get).findFirst().orElse(List.of());
  }

  private OptionalInt index(LocalDate date) {
    long index = ChronoUnit.DAYS.between(firstDate, date);
    return index >= 0 && index < days.size() ? OptionalInt.of((int) index) : OptionalInt.empty();
  }
}
