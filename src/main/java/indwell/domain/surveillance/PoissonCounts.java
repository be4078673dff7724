package indwell.domain.surveillance;

/**
 * Probabilities of a count that follows a Poisson distribution. Exact to within rounding: no
 * approximation by the normal distribution, at any size.
 */
public interface PoissonCounts {

  /**
   * {@code P(X < count)}; 0 for a count of 0.
   *
   * @param mean positive
   */
  double below(int count, double mean);

  /**
   * {@code P(X = count)}.
   *
   * @param mean positive
   */
  double exactly(int count, double mean);

  /**
   * {@code P(X > count)}, worked out by itself and not as what is left of 1, so that it keeps its
   * digits when it is small.
   *
   * @param mean positive
   */
  double above(int count, double mean);
}
