package indwell.domain.timeline;

import indwell.domain.event.Ward;
import indwell.domain.time.FacilityCalendar;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.temporal.ChronoUnit;
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
  private final FacilityCalendar calendar;
  private final LocalDate start;
  private final List<LocalDate> dates;
  private final SortedMap<Ward, Page> pages = new TreeMap<>();

  /** Counts of one ward, by the number of the date. */
  private static final class Page {
    private final List<Instant> counted;
    private final long[] patientDays;
    private final long[] catheterDays;

    private Page(List<Instant> counted) {
      this.counted = counted;
      this.patientDays = new long[counted.size()];
      this.catheterDays = new long[counted.size()];
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
    this.calendar = calendar;
    this.start = start;
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
      int last = last(time);
      for (int date = first(time); date <= last; date++) {
        if (time.span().holds(page.counted.get(date))) {
          page.patientDays[date]++;
          page.catheterDays[date] += time.withCatheter() ? 1 : 0;
        }
      }
    }
  }

  /** One date early: in a gap of the local clock a date may be counted on the next one. */
  private int first(CountedTime time) {
    return (int) Math.max(0, number(time.span().start()) - 1);
  }

  private int last(CountedTime time) {
    long end = time.span().end().map(this::number).orElse(Long.MAX_VALUE);
    return (int) Math.min(dates.size() - 1, end);
  }

  private long number(Instant instant) {
    return ChronoUnit.DAYS.between(start, calendar.dateOf(instant));
  }

  /** By ward (code point), then date. */
  public SortedMap<Ward, SortedMap<LocalDate, DayCount>> counts() {
    SortedMap<Ward, SortedMap<LocalDate, DayCount>> counts = new TreeMap<>();
    pages.forEach((ward, page) -> counts.put(ward, counts(page)));
    return counts;
  }

  private SortedMap<LocalDate, DayCount> counts(Page page) {
    SortedMap<LocalDate, DayCount> days = new TreeMap<>();
    for (int date = 0; date < dates.size(); date++) {
      days.put(dates.get(date), new DayCount(page.patientDays[date], page.catheterDays[date]));
    }
    return days;
  }
}
