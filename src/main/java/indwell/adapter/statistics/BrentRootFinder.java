package indwell.adapter.statistics;

import indwell.domain.surveillance.RootFinder;
import java.util.function.DoubleUnaryOperator;
import org.apache.commons.numbers.rootfinder.BrentSolver;

/** Roots by Brent's method. Holds nothing that changes; safe for all threads. */
public final class BrentRootFinder implements RootFinder {
  private static final double RELATIVE = 1e-13;
  private static final double ABSOLUTE = 1e-14;
  private static final double VALUE = 1e-15;

  private final BrentSolver solver = new BrentSolver(RELATIVE, ABSOLUTE, VALUE);

  @Override
  public double root(DoubleUnaryOperator function, double low, double high) {
    return solver.findRoot(function, low, high);
  }
}
