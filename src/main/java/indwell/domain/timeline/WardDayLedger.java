package indwell.domain.timeline;

import indwell.domain.event.Ward;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.time.Span;
import java.time.Instant;
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
public final class WardDayLedger {
  private final List<LocalDate> dates;
  private final SortedMap<Ward, Page> pages = new TreeMap<>();

  /**
   * How many more than on the date before are in one ward, by the number of the date: a time is
   * added at its ends alone, however long it is. No date is counted before an earlier one is.
   */
  private static final class Page {
    private final List<Instant> counted;
    private final long[] patients;
    private final long[] catheters;

    private Page(List<Instant> counted) {
      this.counted = counted;
      this.patients = new long[counted.size() + 1];
      this.catheters = new long[counted.size() + 1];
    }

    void add(Span span, boolean withCatheter) {
      change(firstNotBefore(span.start()), 1, withCatheter);
      change(span.end().map(this::firstNotBefore).orElse(counted.size()), -1, withCatheter);
    }

    private void change(int date, int by, boolean withCatheter) {
      patients[date] += by;
      catheters[date] += withCatheter ? by : 0;
    }

    /** The first date that is not counted before the instant; the number of dates if none is. */
    private int firstNotBefore(Instant instant) {
      int from = 0;
      int to = counted.size();
      while (from < to) {
        int middle = (from + to) / 2;
        if (counted.get(middle).isBefore(instant)) {
          from = middle + 1;
        } else {
          to = middle;
        }
      }
      return from;
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
              dates.stream().map(date -> calendar.at(date, countTime.apply(ward, date))).toList()));
    }
  }

  /** Adds the time of a patient; no two times of one patient overlap. */
  public void add(CountedTime time) {
    Page page = pages.get(time.ward());
    if (page != null) {
      page.add(time.span(), time.withCatheter());
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
