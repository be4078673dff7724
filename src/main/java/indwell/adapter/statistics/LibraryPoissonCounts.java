package indwell.adapter.statistics;

import indwell.domain.surveillance.PoissonCounts;
import org.apache.commons.statistics.distribution.PoissonDistribution;

/** Poisson probabilities by the regularised gamma function. Holds nothing; safe for all threads. */
public final class LibraryPoissonCounts implements PoissonCounts {

  @Override
  public double below(int count, double mean) {
    return count == 0 ? 0 : PoissonDistribution.of(mean).cumulativeProbability(count - 1);
  }

  @Override
  public double exactly(int count, double mean) {
    return PoissonDistribution.of(mean).probability(count);
  }

  @Override
  public double above(int count, double mean) {
    return PoissonDistribution.of(mean).survivalProbability(count);
  }
}
