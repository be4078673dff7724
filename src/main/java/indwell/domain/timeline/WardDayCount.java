package indwell.domain.timeline;

import indwell.domain.event.Ward;
import indwell.domain.time.FacilityCalendar;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Collection;
import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.BiFunction;

/**
 * The denominator: for each ward and date the patients who are there at the ward's count time, and
 * those of them with a catheter in place then. A point count: a catheter put in and taken out
 * between two count times adds nothing.
 *
 * <p>Rule DEN-1. Source: CDC form 57.118 (rules C4, C7, C8, C11).
 */
public final class WardDayCount {
  private final FacilityCalendar calendar;
  private final BiFunction<Ward, LocalDate, LocalTime> countTime;
  private final LocalDate start;
  private final LocalDate endInclusive;
  private final SortedMap<Ward, SortedMap<LocalDate, DayCount>> counts = new TreeMap<>();

  /**
   * @param countTime the local time at which a ward counts on a date
   * @param wards the wards to count for; each of them gets every date, zeros included
   * @param start first date
   * @param endInclusive last date
   */
  public WardDayCount(
      FacilityCalendar calendar,
      BiFunction<Ward, LocalDate, LocalTime> countTime,
      Collection<Ward> wards,
      LocalDate start,
      LocalDate endInclusive) {
    this.calendar = calendar;
    this.countTime = countTime;
    this.start = start;
    this.endInclusive = endInclusive;
    for (Ward ward : wards) {
      SortedMap<LocalDate, DayCount> days = new TreeMap<>();
      start.datesUntil(endInclusive.plusDays(1)).forEach(date -> days.put(date, DayCount.NONE));
      counts.put(ward, days);
    }
  }

  /** Is told of every patient day that is counted, and by what. */
  public interface Counted {
    /**
     * One patient was there.
     *
     * @param stay the time in the ward that holds the count time
     * @param catheters those in place then; none when it is no catheter day
     */
    void day(LocalDate date, WardStay stay, List<Placement> catheters);
  }

  /** Adds one patient. */
  public void add(Timeline timeline) {
    add(timeline, (date, stay, catheters) -> {});
  }

  /** Adds one patient and tells by what. */
  public void add(Timeline timeline, Counted counted) {
    for (WardStay stay : timeline.wards()) {
      SortedMap<LocalDate, DayCount> days = counts.get(stay.ward());
      if (stay.inpatient() && days != null) {
        add(timeline, stay, days, counted);
      }
    }
  }

  private void add(
      Timeline timeline, WardStay stay, SortedMap<LocalDate, DayCount> days, Counted listener) {
    LocalDate last = lastDate(stay);
    for (LocalDate date = firstDate(stay); !date.isAfter(last); date = date.plusDays(1)) {
      Instant counted = calendar.at(date, countTime.apply(stay.ward(), date));
      if (stay.span().holds(counted)) {
        List<Placement> catheters = timeline.countedAt(counted);
        days.merge(date, new DayCount(1, catheters.isEmpty() ? 0 : 1), DayCount::plus);
        listener.day(date, stay, catheters);
      }
    }
  }

  /** One date early: in a gap of the local clock a date may be counted on the next one. */
  private LocalDate firstDate(WardStay stay) {
    LocalDate begun = calendar.dateOf(stay.span().start()).minusDays(1);
    return begun.isAfter(start) ? begun : start;
  }

  private LocalDate lastDate(WardStay stay) {
    return stay.span()
        .end()
        .map(calendar::dateOf)
        .filter(end -> end.isBefore(endInclusive))
        .orElse(endInclusive);
  }

  /** By ward (code point), then date. */
  public SortedMap<Ward, SortedMap<LocalDate, DayCount>> counts() {
    return counts;
  }
}
