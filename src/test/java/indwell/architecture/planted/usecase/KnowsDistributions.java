package indwell.architecture.planted.usecase;

import org.apache.commons.statistics.distribution.PoissonDistribution;

/** Uses the statistics library directly. */
public final class KnowsDistributions {
  private KnowsDistributions() {}

  static double anything() {
    return PoissonDistribution.of(1.7).probability(3);
  }
}
