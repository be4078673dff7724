package indwell.domain.surveillance;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.OptionalDouble;

/** Observed by predicted: what it is, or why it is withheld. */
public sealed interface StandardisedRatio
    permits StandardisedRatio.Calculated, StandardisedRatio.NotCalculated {

  /** Decimals that a ratio, its limits and its predicted count are shown with (rule S1). */
  int DECIMALS = 3;

  /**
   * A ratio with its 95 % limits; nothing is rounded here.
   *
   * @param lower absent when nothing was observed (rule S3)
   * @param p two-sided, of observed against predicted
   */
  record Calculated(
      Tally tally, OptionalDouble lower, double upper, double p, Comparison comparison)
      implements StandardisedRatio {

    /** The ratio, rounded half up. */
    public BigDecimal ratio(int decimals) {
      return BigDecimal.valueOf(tally.observed())
          .divide(tally.predicted(), decimals, RoundingMode.HALF_UP);
    }
  }

  /** A ratio that is not given. */
  record NotCalculated(Withheld reason) implements StandardisedRatio {}
}
