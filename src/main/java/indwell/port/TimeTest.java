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
    EQ(TimeTest::within),
    NE((asked, from, to) -> !within(asked, from, to)),
    /** Some of the resource's time is after the time asked for. */
    GT((asked, from, to) -> to > asked.high),
    /** Some of the resource's time is before the time asked for. */
    LT((asked, from, to) -> from < asked.low),
    GE((asked, from, to) -> within(asked, from, to) || to > asked.high),
    LE((asked, from, to) -> within(asked, from, to) || from < asked.low),
    /** All of the resource's time is after the time asked for. */
    SA((asked, from, to) -> from >= asked.high),
    /** All of the resource's time is before the time asked for. */
    EB((asked, from, to) -> to <= asked.low),
    /** Both share a moment; the caller has widened the time asked for. */
    AP((asked, from, to) -> from < asked.high && to > asked.low);

    // Each is a function of what it is given alone.
    @SuppressWarnings("ImmutableEnumChecker")
    private final Comparison comparison;

    Prefix(Comparison comparison) {
      this.comparison = comparison;
    }
  }

  /** Compares the resource's time, from {@code from} to before {@code to}, with the one asked. */
  private interface Comparison {
    boolean meets(TimeTest asked, long from, long to);
  }

  private static boolean within(TimeTest asked, long from, long to) {
    return asked.low <= from && to <= asked.high;
  }

  /** Whether the resource's time, from {@code from} to before {@code to}, meets it. */
  public boolean meets(long from, long to) {
    return prefix.comparison.meets(this, from, to);
  }
}
