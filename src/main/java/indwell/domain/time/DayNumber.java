package indwell.domain.time;

import java.time.Instant;
import java.time.temporal.ChronoUnit;

/**
 * The place of a day in a run of catheter days: an ordinal that starts at 1, not a count of
 * anything.
 */
public record DayNumber(int value) implements Comparable<DayNumber> {

  /** The first day of a run. */
  public static final DayNumber FIRST = new DayNumber(1);

  public DayNumber {
    if (value < 1) {
      throw new IllegalArgumentException("Day numbers start at 1, not " + value);
    }
  }

  /**
   * Which day in place it is: the calendar days that a catheter has been in, the day it was put in
   * being day 1. Calendar days of the facility's zone, not stretches of 24 hours.
   *
   * @param putIn when it was put in
   * @param at an instant that is not before it
   * @throws IllegalArgumentException if the date of {@code at} is before that of {@code putIn}
   */
  public static DayNumber inPlace(Instant putIn, Instant at, FacilityCalendar calendar) {
    long days = ChronoUnit.DAYS.between(calendar.dateOf(putIn), calendar.dateOf(at));
    return new DayNumber(Math.toIntExact(days + 1));
  }

  /** The day after. */
  public DayNumber next() {
    return new DayNumber(value + 1);
  }

  /** Whether it is this day or a later one. */
  public boolean isAtLeast(DayNumber other) {
    return value >= other.value;
  }

  @Override
  public int compareTo(DayNumber other) {
    return Integer.compare(value, other.value);
  }
}
