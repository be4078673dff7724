package indwell.usecase.publish;

import java.time.Duration;
import java.util.function.DoubleSupplier;

/**
 * How long to wait after so many failures in a row: any time up to a bound that doubles, so that
 * many who were turned away at once do not come back at once.
 *
 * <p>Source: "full jitter", M. Brooker, Exponential Backoff And Jitter, AWS Architecture Blog, 2015
 * (from memory).
 *
 * @param first bound after the first failure
 * @param longest bound that is not passed
 * @param chance numbers from 0 inclusive to 1 exclusive
 */
public record Backoff(Duration first, Duration longest, DoubleSupplier chance) {
  /** Beyond this many doublings every bound is the longest. */
  private static final int MOST_DOUBLINGS = 30;

  /**
   * The wait before the next try.
   *
   * @param failures 1 or more
   */
  public Duration after(int failures) {
    Duration bound = first.multipliedBy(1L << Math.min(failures - 1, MOST_DOUBLINGS));
    return part(bound.compareTo(longest) > 0 ? longest : bound);
  }

  /** What to add to a wait that was asked for: up to the first bound. */
  public Duration apart() {
    return part(first);
  }

  private Duration part(Duration bound) {
    return Duration.ofNanos((long) (bound.toNanos() * chance.getAsDouble()));
  }
}
