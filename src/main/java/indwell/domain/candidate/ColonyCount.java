package indwell.domain.candidate;

import java.util.OptionalInt;

/**
 * A colony count as it was reported, in CFU/mL: a number, or a range with one or both ends.
 *
 * @param from at least so many; 0 when only an upper end was reported
 * @param to at most so many, not below {@code from}; empty when open
 */
public record ColonyCount(int from, OptionalInt to) {
  /** What a bacterium needs, in CFU/mL. */
  public static final int ENOUGH = 100_000;

  public ColonyCount {
    if (from < 0 || (to.isPresent() && to.getAsInt() < from)) {
      throw new IllegalArgumentException("No colony count from " + from + " to " + to);
    }
  }

  /** One number. */
  public static ColonyCount of(int count) {
    return new ColonyCount(count, OptionalInt.of(count));
  }

  /** Whether every number that was reported is enough. */
  public boolean isEnough() {
    return from >= ENOUGH;
  }

  /** Whether some of the numbers that were reported are enough and some are not. */
  public boolean isUncertain() {
    return from < ENOUGH && (to.isEmpty() || to.getAsInt() >= ENOUGH);
  }

  /** As a sentence writes it. */
  public String words() {
    if (to.isEmpty()) {
      return "at least " + from + " CFU/mL";
    }
    return (to.getAsInt() == from ? "" : from + " to ") + to.getAsInt() + " CFU/mL";
  }
}
