package indwell.domain.surveillance;

import java.math.BigDecimal;
import java.util.List;
import java.util.OptionalDouble;

/**
 * Standardised infection and utilisation ratios: observed by predicted, with mid-P limits, p value
 * and word.
 *
 * <p>Rules SIR-1 and SUR-1. Source: NHSN, Keys to Success with the SIR; The NHSN SIR, a guide; The
 * NHSN SUR, a guide (rules S1 to S8).
 */
public final class StandardisedRatios {
  /** The smallest predicted count that is compared with (rule S2, S8). */
  public static final BigDecimal LEAST_PREDICTED = BigDecimal.ONE;

  private final MidP midP;

  public StandardisedRatios(MidP midP) {
    this.midP = midP;
  }

  /** The ratio of one tally; withheld when fewer than 1.0 are predicted. */
  public StandardisedRatio of(Tally tally) {
    if (tally.predicted().compareTo(LEAST_PREDICTED) < 0) {
      return new StandardisedRatio.NotCalculated(Withheld.PREDICTED_BELOW_ONE);
    }
    double predicted = tally.predicted().doubleValue();
    OptionalDouble lower = midP.lower(tally.observed());
    double p = midP.pValue(tally.observed(), predicted);
    return new StandardisedRatio.Calculated(
        tally,
        lower.isPresent()
            ? OptionalDouble.of(lower.getAsDouble() / predicted)
            : OptionalDouble.empty(),
        midP.upper(tally.observed()) / predicted,
        p,
        Comparison.of(tally.observed() / predicted, p));
  }

  /**
   * The ratio of several months or wards together: observed and predicted are added, then divided,
   * and ratios are never averaged (rule S6). Withheld without any tally, and when the baselines
   * differ (rule S7).
   */
  public StandardisedRatio pooled(List<Tally> tallies) {
    if (tallies.isEmpty()) {
      return new StandardisedRatio.NotCalculated(Withheld.NO_PREDICTION);
    }
    String baseline = tallies.get(0).baseline();
    if (!tallies.stream().allMatch(tally -> tally.baseline().equals(baseline))) {
      return new StandardisedRatio.NotCalculated(Withheld.BASELINES_DIFFER);
    }
    return of(
        new Tally(
            tallies.stream().mapToInt(Tally::observed).reduce(0, Math::addExact),
            tallies.stream().map(Tally::predicted).reduce(BigDecimal.ZERO, BigDecimal::add),
            baseline));
  }
}
