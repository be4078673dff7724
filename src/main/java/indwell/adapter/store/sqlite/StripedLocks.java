package indwell.adapter.store.sqlite;

import indwell.port.StoreUnavailable;
import java.time.Duration;
import java.util.Collection;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.concurrent.locks.Lock;
import java.util.concurrent.locks.ReentrantLock;
import java.util.stream.Stream;

/**
 * Locks by name within this process. Two names may share a lock, which costs waiting and nothing
 * else; locks asked for together are taken in one order.
 */
final class StripedLocks {
  private static final int STRIPES = 1024;

  private final Lock[] stripes =
      Stream.generate(() -> new ReentrantLock(true)).limit(STRIPES).toArray(Lock[]::new);
  private final Duration patience;

  StripedLocks(Duration patience) {
    this.patience = patience;
  }

  /** Takes the locks of all the names; returns what lets them go again. */
  Runnable lock(Collection<?> names) {
    int[] needed =
        names.stream()
            .mapToInt(n -> Math.floorMod(n.hashCode(), STRIPES))
            .distinct()
            .sorted()
            .toArray();
    int held = 0;
    try {
      for (int stripe : needed) {
        take(stripes[stripe], patience);
        held++;
      }
    } finally {
      if (held < needed.length) {
        release(needed, held);
      }
    }
    return () -> release(needed, needed.length);
  }

  /**
   * Waits for a lock as long as one may.
   *
   * @throws StoreUnavailable when that was not long enough
   */
  static void take(Lock lock, Duration patience) {
    try {
      if (!lock.tryLock(patience.toMillis(), TimeUnit.MILLISECONDS)) {
        throw new StoreUnavailable("The store is too busy.", new TimeoutException());
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new StoreUnavailable("Interrupted while waiting for the store.", e);
    }
  }

  private void release(int[] needed, int held) {
    for (int i = 0; i < held; i++) {
      stripes[needed[i]].unlock();
    }
  }
}
