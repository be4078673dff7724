package indwell.domain.surveillance;

import java.util.function.DoubleUnaryOperator;

/** Finds where a function is zero. */
public interface RootFinder {

  /**
   * The place between the two bounds at which the function is zero, to within one part in 10^12.
   *
   * @param function continuous, of opposite sign at the two bounds
   * @throws IllegalArgumentException if it has one sign at both bounds
   */
  double root(DoubleUnaryOperator function, double low, double high);
}
