package indwell.domain.surveillance;

import java.math.BigDecimal;

/**
 * An observed count and the one predicted for the same place and time.
 *
 * @param observed events, or device days; not negative
 * @param predicted of the same kind; not negative
 * @param baseline what the prediction rests on; predictions of different baselines are never added
 */
public record Tally(int observed, BigDecimal predicted, String baseline) {
  public Tally {
    if (observed < 0 || predicted.signum() < 0) {
      throw new IllegalArgumentException(
          "Observed " + observed + " or predicted " + predicted + " is negative");
    }
  }
}
