package indwell.domain.timeline;

import indwell.domain.event.Movement.Discharge;
import indwell.domain.event.Ward;
import indwell.domain.time.DayNumber;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.time.Span;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * The eligibility count: calendar dates with any portion of catheter use within one stay. Not to be
 * mixed with the denominator, which is a point count ({@link WardDayCount}).
 *
 * <p>The placement date is day 1; the count starts no earlier than the stay's first inpatient date,
 * goes on from date to date, and restarts after a full calendar date without a catheter. An event
 * is eligible from day 3 on while the catheter is there, and on the date after.
 *
 * <p>Rules ELI-1, ELI-2 and ELI-3. Source: NHSN manual chapter 7, Definitions (rules E1 to E9).
 */
public final class EligibilityCount {
  private static final DayNumber FIRST_ELIGIBLE = new DayNumber(3);

  private final Timeline timeline;
  private final FacilityCalendar calendar;

  /** Counts over what had happened: the timeline is one {@link Timeline#asOf} the instant asked. */
  public EligibilityCount(Timeline timeline, FacilityCalendar calendar) {
    this.timeline = timeline;
    this.calendar = calendar;
  }

  /**
   * The dates of a stay from its first local date through that of {@code asOf} or the date after
   * its end, whichever is earlier.
   */
  public List<CatheterDay> days(Stay stay, Instant asOf) {
    Attribution attribution = new Attribution(stay, calendar);
    LocalDate last = lastDate(stay, asOf);
    List<CatheterDay> days = new ArrayList<>();
    Optional<DayNumber> yesterday = Optional.empty();
    for (LocalDate date = calendar.dateOf(stay.start());
        !date.isAfter(last);
        date = date.plusDays(1)) {
      boolean counts = counts(stay, attribution, date) && catheterOn(date, stay);
      Optional<DayNumber> today = counts ? next(yesterday) : Optional.empty();
      boolean eligible = (today.isPresent() ? today : yesterday).filter(this::eligible).isPresent();
      Optional<Ward> ward = attribution.wardOf(date);
      days.add(new CatheterDay(date, today, !presentOn(date).isEmpty(), eligible, ward));
      yesterday = today;
    }
    return days;
  }

  /**
   * The catheters that make a date a day of the stay's count: those that count for surveillance and
   * were in place in any portion of the date, not outside the stay alone.
   */
  public List<Placement> placementsOn(LocalDate date, Stay stay) {
    return timeline.placements().stream()
        .filter(placement -> placement.placing().countsForSurveillance())
        .filter(
            placement ->
                placement.timesInPlace().stream()
                    .anyMatch(time -> covers(time, date) && meets(time, stay)))
        .toList();
  }

  /**
   * The catheters that count for surveillance and were in place in any portion of the date, inside
   * a stay or out of it.
   */
  public List<Placement> presentOn(LocalDate date) {
    return timeline.placements().stream()
        .filter(placement -> placement.placing().countsForSurveillance())
        .filter(placement -> placement.timesInPlace().stream().anyMatch(time -> covers(time, date)))
        .toList();
  }

  /** The time in a ward by which an event of the date is attributed; empty for nowhere. */
  public Optional<WardStay> attributedBy(LocalDate date, Stay stay) {
    return new Attribution(stay, calendar).of(date);
  }

  /** The date on which the patient first was in an inpatient ward of the stay. */
  public Optional<LocalDate> firstInpatientDate(Stay stay) {
    return new Attribution(stay, calendar).firstInpatientDate();
  }

  private LocalDate lastDate(Stay stay, Instant asOf) {
    LocalDate asked = calendar.dateOf(asOf);
    Optional<LocalDate> dayAfterEnd = stay.end().map(end -> calendar.dateOf(end).plusDays(1));
    return dayAfterEnd.filter(after -> after.isBefore(asked)).orElse(asked);
  }

  private boolean counts(Stay stay, Attribution attribution, LocalDate date) {
    boolean begun =
        attribution.firstInpatientDate().filter(first -> !date.isBefore(first)).isPresent();
    boolean ended = stay.end().filter(end -> date.isAfter(calendar.dateOf(end))).isPresent();
    return begun && !ended;
  }

  private static Optional<DayNumber> next(Optional<DayNumber> yesterday) {
    return Optional.of(yesterday.map(DayNumber::next).orElse(DayNumber.FIRST));
  }

  private boolean eligible(DayNumber number) {
    return number.isAtLeast(FIRST_ELIGIBLE);
  }

  /** One that was in place outside the stay alone makes no day of its count. */
  private boolean catheterOn(LocalDate date, Stay stay) {
    return !placementsOn(date, stay).isEmpty();
  }

  /** At one instant an admission comes before all else and a discharge after it. */
  private static boolean meets(Span time, Stay stay) {
    boolean lastsIntoIt = time.end().filter(end -> end.isBefore(stay.start())).isEmpty();
    boolean discharged = stay.endedBy().filter(Discharge.class::isInstance).isPresent();
    boolean beginsAfterIt =
        stay.end()
            .filter(end -> discharged ? time.start().isAfter(end) : !time.start().isBefore(end))
            .isPresent();
    return lastsIntoIt && !beginsAfterIt;
  }

  /** Every date from that of the start through that of the end, also when the end is midnight. */
  private boolean covers(Span time, LocalDate date) {
    boolean begun = !calendar.dateOf(time.start()).isAfter(date);
    return begun && time.end().filter(end -> calendar.dateOf(end).isBefore(date)).isEmpty();
  }
}
