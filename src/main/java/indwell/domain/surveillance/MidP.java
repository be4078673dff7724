package indwell.domain.surveillance;

import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;

/**
 * Mid-P exact limits and p value of a Poisson count: half of the probability of the very count that
 * was observed belongs to either tail. Limits and p value always agree: p is at most 0.05 if and
 * only if the 95 % limits of the ratio exclude 1.
 *
 * <p>Source: Kulkarni, Tripathi, Michalek, Am J Epidemiol 1998;147:83-86 (published); that NHSN
 * uses it at every size of count: rule S5 (published and recomputed).
 */
public final class MidP {
  /** Probability left outside the limits, and the largest p value that is significant (rule S4). */
  public static final double ALPHA = 0.05;

  private final PoissonCounts counts;
  private final RootFinder roots;

  public MidP(PoissonCounts counts, RootFinder roots) {
    this.counts = counts;
    this.roots = roots;
  }

  /** Lower 95 % limit of the mean; a count of 0 has none (rule S3). */
  public OptionalDouble lower(int observed) {
    return observed == 0
        ? OptionalDouble.empty()
        : OptionalDouble.of(
            meanWhere(mean -> upperTail(observed, mean), Double.MIN_NORMAL, observed));
  }

  /** Upper 95 % limit of the mean; ln 20 for a count of 0. */
  public double upper(int observed) {
    double low = observed == 0 ? Double.MIN_NORMAL : observed;
    // Ten standard deviations and more: the tail there is far below every alpha in use.
    double high = observed + 10 * Math.sqrt(observed + 1.0) + 10;
    return meanWhere(mean -> lowerTail(observed, mean), low, high);
  }

  /**
   * Two-sided p value of the count against a predicted one, at most 1.
   *
   * @param predicted positive
   */
  public double pValue(int observed, double predicted) {
    double smaller = Math.min(lowerTail(observed, predicted), upperTail(observed, predicted));
    return Math.min(1, 2 * smaller);
  }

  private double meanWhere(DoubleUnaryOperator tail, double low, double high) {
    return roots.root(mean -> tail.applyAsDouble(mean) - ALPHA / 2, low, high);
  }

  /** {@code P(X < observed) + P(X = observed) / 2}, falling with the mean. */
  private double lowerTail(int observed, double mean) {
    return counts.below(observed, mean) + counts.exactly(observed, mean) / 2;
  }

  /** {@code P(X > observed) + P(X = observed) / 2}, rising with the mean. */
  private double upperTail(int observed, double mean) {
    return counts.above(observed, mean) + counts.exactly(observed, mean) / 2;
  }
}
