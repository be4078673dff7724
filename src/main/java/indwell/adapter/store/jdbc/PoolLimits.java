package indwell.adapter.store.jdbc;

import java.time.Duration;

/**
 * How many wait for a connection to a database, and how long.
 *
 * @param connections of each kind that there may be; the one that writes to SQLite has no others
 * @param waiting who may wait while nobody gets on; beyond them whoever comes is turned away
 * @param patience that each of them has
 * @param still for how long nobody has got a connection before it is said that nobody gets on:
 *     while connections come back, as many wait as there are threads
 */
public record PoolLimits(int connections, int waiting, Duration patience, Duration still) {

  /**
   * With so many connections, and what fits a service of a few dozen threads. A service that has
   * just started may work for a second or two in one transaction; that is no reason to turn anybody
   * away.
   */
  public static PoolLimits of(int connections) {
    return new PoolLimits(connections, 3, Duration.ofSeconds(10), Duration.ofSeconds(3));
  }
}
