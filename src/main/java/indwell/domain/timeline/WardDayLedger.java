package indwell.domain.timeline;

import indwell.domain.event.Ward;
import indwell.domain.time.FacilityCalendar;
import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Collection;
import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.BiFunction;

/**
 * The denominator, counted from times that are kept instead of timelines: the same counts as {@link
 * WardDayCount} makes of the timelines that the times come from, in a fraction of the time.
 *
 * <p>Rule DEN-1. Source: CDC form 57.118 (rules C4, C7, C8, C11).
 */
public final class WardDayLedger implements CountedTimes {
  private static final long DAY = Duration.ofDays(1).toMillis();

  private final List<LocalDate> dates;
  private final SortedMap<Ward, Page> pages = new TreeMap<>();

  /**
   * How many more than on the date before are in one ward, by the number of the date: a time is
   * added at its ends alone, however long it is. No date is counted before an earlier one is. Count
   * times are whole seconds, given in milliseconds since the epoch.
   */
  private static final class Page {
    private final long[] counted;
    private final long[] patients;
    private final long[] catheters;

    private Page(long[] counted) {
      this.counted = counted;
      this.patients = new long[counted.length + 1];
      this.catheters = new long[counted.length + 1];
    }

    void add(long[] changes, boolean withCatheter, int by) {
      long[] counts = withCatheter ? catheters : patients;
      for (long change : changes) {
        counts[firstNotBefore(change)] += by;
      }
    }

    /** The first date that is not counted before the instant; the number of dates if none is. */
    private int firstNotBefore(long instant) {
      int last = counted.length - 1;
      if (instant <= counted[0]) {
        return 0;
      }
      if (instant > counted[last]) {
        return counted.length;
      }
      // Dates are a day apart but where the clock or the count time is changed.
      int date = (int) Math.min(last, (instant - counted[0]) / DAY);
      while (counted[date] < instant) {
        date++;
      }
      while (counted[date - 1] >= instant) {
        date--;
      }
      return date;
    }
  }

  /**
   * Counts nobody yet.
   *
   * @param countTime the local time at which a ward counts on a date
   * @param wards the wards to count for; each of them gets every date, zeros included
   * @param start first date
   * @param endInclusive last date
   */
  public WardDayLedger(
      FacilityCalendar calendar,
      BiFunction<Ward, LocalDate, LocalTime> countTime,
      Collection<Ward> wards,
      LocalDate start,
      LocalDate endInclusive) {
    this.dates = start.datesUntil(endInclusive.plusDays(1)).toList();
    for (Ward ward : wards) {
      pages.put(
          ward,
          new Page(
              dates.stream()
                  .mapToLong(date -> calendar.at(date, countTime.apply(ward, date)).toEpochMilli())
                  .toArray()));
    }
  }

  /** Adds times of patients; no two times of one patient and one kind overlap. */
  @Override
  public void take(Ward ward, boolean withCatheter, long[] starts, long[] ends) {
    Page page = pages.get(ward);
    if (page != null) {
      page.add(starts, withCatheter, 1);
      page.add(ends, withCatheter, -1);
    }
  }

  /** By ward (code point), then date. */
  public SortedMap<Ward, SortedMap<LocalDate, DayCount>> counts() {
    SortedMap<Ward, SortedMap<LocalDate, DayCount>> counts = new TreeMap<>();
    pages.forEach((ward, page) -> counts.put(ward, counts(page)));
    return counts;
  }

  private SortedMap<LocalDate, DayCount> counts(Page page) {
    SortedMap<LocalDate, DayCount> days = new TreeMap<>();
    long patients = 0;
    long catheters = 0;
    for (int date = 0; date < dates.size(); date++) {
      patients += page.patients[date];
      catheters += page.catheters[date];
      days.put(dates.get(date), new DayCount(patients, catheters));
    }
    return days;
  }
}
