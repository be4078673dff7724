package indwell.port;

/**
 * Compares a time that a resource has with one that is asked for; both are stretches of time, by
 * their precision or because they are periods.
 *
 * <p>Source: https://hl7.org/fhir/R4/search.html#prefix
 *
 * @param low first millisecond of the time asked for, inclusive
 * @param high the millisecond after its last
 */
public record TimeTest(Prefix prefix, long low, long high) {

  /** How to compare. */
  public enum Prefix {
    /** The time asked for holds the resource's time whole. */
    EQ,
    NE,
    /** Some of the resource's time is after the time asked for. */
    GT,
    /** Some of the resource's time is before the time asked for. */
    LT,
    GE,
    LE,
    /** All of the resource's time is after the time asked for. */
    SA,
    /** All of the resource's time is before the time asked for. */
    EB,
    /** Both share a moment; the caller has widened the time asked for. */
    AP
  }

  /** Whether the resource's time, from {@code from} to before {@code to}, meets it. */
  public boolean meets(long from, long to) {
    boolean within = low <= from && to <= high;
    return switch (prefix) {
      case EQ -> within;
      case NE -> !within;
      case GT -> to > high;
      case LT -> from < low;
      case GE -> within || to > high;
      case LE -> within || from < low;
      case SA -> from >= high;
      case EB -> to <= low;
      case AP -> from < high && to > low;
    };
  }
}
