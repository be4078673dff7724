package indwell.domain.time;

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
