package indwell.domain.timeline;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.event.Ward;
import indwell.domain.time.FacilityCalendar;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.SortedMap;
import java.util.TreeMap;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Counted in one pass over their ends, times count on the dates at whose count time they hold: the
 * oracle asks each time on each date.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class WardDayLedgerTest {
  private static final Ward WARD = new Ward("W-1");
  private static final int TIMES = 300;
  private static final int DATES = 12;

  /** A time in milliseconds. */
  private record Time(long start, long end) {
    boolean holds(long instant) {
      return start <= instant && instant < end;
    }
  }

  /** The count time is put back and forth between dates. */
  private static LocalTime countTime(LocalDate date) {
    return LocalTime.of(date.getDayOfMonth() % 3 * 11, 30);
  }

  /**
   * Dates that never were (Samoa, Kwajalein, Manila), most of one twice (Alaska), a gap at midnight
   * (Cairo), and clocks put forward and back; the dates are from memory of the time zone database.
   */
  @ParameterizedTest
  @CsvSource({
    "Etc/UTC, 1969-12-26",
    "Europe/Berlin, 2026-03-25",
    "Europe/Berlin, 2026-10-20",
    "Pacific/Apia, 2011-12-26",
    "Pacific/Kwajalein, 1993-08-16",
    "Asia/Manila, 1844-12-26",
    "America/Juneau, 1867-10-14",
    "Africa/Cairo, 2026-04-18"
  })
  void as_if_each_time_were_asked_on_each_date(String zone, LocalDate first) {
    FacilityCalendar calendar = new FacilityCalendar(ZoneId.of(zone));
    List<LocalDate> dates = first.datesUntil(first.plusDays(DATES)).toList();
    long[] counted =
        dates.stream()
            .mapToLong(date -> calendar.at(date, countTime(date)).toEpochMilli())
            .toArray();
    Random random = new Random(first.toEpochDay());
    List<Time> patients = times(counted, random);
    List<Time> catheters = patients.subList(TIMES / 3, TIMES);

    WardDayLedger ledger =
        new WardDayLedger(
            calendar, (ward, date) -> countTime(date), List.of(WARD), first, dates.get(DATES - 1));
    give(ledger, false, patients);
    give(ledger, true, catheters);
    ledger.take(new Ward("W-2"), false, new long[] {counted[0]}, new long[] {Long.MAX_VALUE});

    SortedMap<LocalDate, DayCount> expected = new TreeMap<>();
    for (int i = 0; i < DATES; i++) {
      long at = counted[i];
      expected.put(
          dates.get(i),
          new DayCount(
              patients.stream().filter(time -> time.holds(at)).count(),
              catheters.stream().filter(time -> time.holds(at)).count()));
    }
    assertThat(ledger.counts()).isEqualTo(new TreeMap<>(Map.of(WARD, expected)));
  }

  /** Ends at count times and a millisecond beside, before the first and after the last. */
  private static List<Time> times(long[] counted, Random random) {
    List<Time> times = new ArrayList<>();
    while (times.size() < TIMES) {
      long start = near(counted, random);
      long end = random.nextInt(8) == 0 ? Long.MAX_VALUE : near(counted, random);
      if (start < end) {
        times.add(new Time(start, end));
      }
    }
    return times;
  }

  private static long near(long[] counted, Random random) {
    return switch (random.nextInt(12)) {
      case 0 -> counted[0] - random.nextInt(1_000_000_000);
      case 1 -> counted[counted.length - 1] + random.nextInt(1_000_000_000);
      default -> counted[random.nextInt(counted.length)] + random.nextInt(-1, 2);
    };
  }

  /** In two parts, the ends in another order than the starts. */
  private static void give(CountedTimes ledger, boolean withCatheter, List<Time> times) {
    for (List<Time> part : List.of(times.subList(0, 7), times.subList(7, times.size()))) {
      ledger.take(
          WARD,
          withCatheter,
          part.stream().mapToLong(Time::start).toArray(),
          part.stream().mapToLong(Time::end).sorted().toArray());
    }
  }
}
