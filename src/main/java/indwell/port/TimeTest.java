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
    EQ {
      @Override
      boolean meets(TimeTest asked, long from, long to) {
        return asked.holds(from, to);
      }
    },
    NE {
      @Override
      boolean meets(TimeTest asked, long from, long to) {
        return !asked.holds(from, to);
      }
    },
    /** Some of the resource's time is after the time asked for. */
    GT {
      @Override
      boolean meets(TimeTest asked, long from, long to) {
        return to > asked.high;
      }
    },
    /** Some of the resource's time is before the time asked for. */
    LT {
      @Override
      boolean meets(TimeTest asked, long from, long to) {
        return from < asked.low;
      }
    },
    GE {
      @Override
      boolean meets(TimeTest asked, long from, long to) {
        return asked.holds(from, to) || to > asked.high;
      }
    },
    LE {
      @Override
      boolean meets(TimeTest asked, long from, long to) {
        return asked.holds(from, to) || from < asked.low;
      }
    },
    /** All of the resource's time is after the time asked for. */
    SA {
      @Override
      boolean meets(TimeTest asked, long from, long to) {
        return from >= asked.high;
      }
    },
    /** All of the resource's time is before the time asked for. */
    EB {
      @Override
      boolean meets(TimeTest asked, long from, long to) {
        return to <= asked.low;
      }
    },
    /** Both share a moment; the caller has widened the time asked for. */
    AP {
      @Override
      boolean meets(TimeTest asked, long from, long to) {
        return from < asked.high && to > asked.low;
      }
    };

    /** Compares the resource's time, from {@code from} to before {@code to}, with the one asked. */
    abstract boolean meets(TimeTest asked, long from, long to);
  }

  private boolean holds(long from, long to) {
    return low <= from && to <= high;
  }

  /** Whether the resource's time, from {@code from} to before {@code to}, meets it. */
  public boolean meets(long from, long to) {
    return prefix.meets(this, from, to);
  }
}
