package indwell.domain.surveillance;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.SortedSet;
import java.util.TreeSet;

/**
 * What was counted on one designated day a week instead of daily.
 *
 * <p>Source: NHSN chapter 7, Table 2 (rules C21, C24; from memory).
 */
public sealed interface WeeklySample permits WeeklySample.Dates, WeeklySample.Sums {

  /** The weekdays that were sampled; more than one where a missed day was made up for. */
  Set<DayOfWeek> weekdays();

  /**
   * Dates of which the electronic count is taken.
   *
   * @param dates not empty, ascending
   */
  record Dates(SortedSet<LocalDate> dates) implements WeeklySample {
    public Dates {
      dates = new TreeSet<>(dates);
    }

    /** Dates in any order. */
    public static Dates of(List<LocalDate> dates) {
      return new Dates(new TreeSet<>(dates));
    }

    @Override
    public Set<DayOfWeek> weekdays() {
      EnumSet<DayOfWeek> weekdays = EnumSet.noneOf(DayOfWeek.class);
      dates.forEach(date -> weekdays.add(date.getDayOfWeek()));
      return weekdays;
    }
  }

  /**
   * Sums that were counted by hand.
   *
   * @param patientDays patients at count time on the sampled days together
   * @param catheterDays those of them with a catheter that counts
   */
  record Sums(DayOfWeek weekday, long patientDays, long catheterDays) implements WeeklySample {
    @Override
    public Set<DayOfWeek> weekdays() {
      return EnumSet.of(weekday);
    }
  }
}
