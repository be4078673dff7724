package indwell.usecase.publish;

import java.time.Duration;

/**
 * How fast everything goes.
 *
 * @param parallel lanes that are sent at once
 * @param patience longest that a request may take
 * @param idle pause when there was nothing to do
 * @param lease how long nobody else takes over after whoever sends was last heard of
 * @param backoff waits after failures
 */
public record Pace(
    int parallel, Duration patience, Duration idle, Duration lease, Backoff backoff) {

  /** The pace of the service. */
  public static Pace of(int parallel, Duration patience, Backoff backoff) {
    Duration least = Duration.ofSeconds(30);
    Duration lease = patience.multipliedBy(3);
    return new Pace(
        parallel,
        patience,
        Duration.ofMillis(500),
        lease.compareTo(least) < 0 ? least : lease,
        backoff);
  }
}
