package indwell.domain.surveillance;

import indwell.adapter.statistics.BrentRootFinder;
import indwell.adapter.statistics.LibraryPoissonCounts;

/** The exact distributions that the service runs with. */
public final class Statistics {
  public static final MidP MID_P = new MidP(new LibraryPoissonCounts(), new BrentRootFinder());
  public static final StandardisedRatios RATIOS = new StandardisedRatios(MID_P);

  private Statistics() {}
}
