package indwell.adapter.store.jdbc;

import indwell.port.StoreCrowded;
import indwell.port.StoreUnavailable;
import java.sql.SQLException;
import java.time.Duration;
import java.util.concurrent.TimeoutException;
import java.util.concurrent.atomic.AtomicInteger;

/**
 * Where one waits for something of which there are few. As long as somebody gets on, all who come
 * may wait, for so long at most; once nobody does, few may, and whoever comes beyond them is turned
 * away at once. Otherwise every thread of the service would end up here, and who could be told to
 * come again would not be told.
 */
public final class WaitingRoom {
  private final PoolLimits limits;
  private final AtomicInteger waiting = new AtomicInteger();

  /** When somebody got on last, or began to wait as the first one; by {@link System#nanoTime}. */
  private volatile long moved = System.nanoTime();

  public WaitingRoom(PoolLimits limits) {
    this.limits = limits;
  }

  /** What is waited for. */
  @FunctionalInterface
  public interface Turn<T> {
    /**
     * Waits for it, for no longer than one may.
     *
     * @throws SQLException when that was not long enough, or it cannot be had
     */
    T take() throws SQLException, InterruptedException;
  }

  /**
   * Waits for the turn.
   *
   * @throws StoreCrowded at once where too many wait and nobody gets on, and after a while
   * @throws SQLException for other reasons
   */
  public <T> T await(Turn<T> turn) throws SQLException {
    if (crowded()) {
      throw new StoreCrowded(new TimeoutException("Too many wait."));
    }
    if (waiting.getAndIncrement() == 0) {
      moved = System.nanoTime();
    }
    long begun = System.nanoTime();
    try {
      T taken = turn.take();
      moved = System.nanoTime();
      return taken;
    } catch (InterruptedException interrupted) {
      Thread.currentThread().interrupt();
      throw new StoreUnavailable("Interrupted while waiting for the store.", interrupted);
    } catch (SQLException notTaken) {
      if (lasted(begun, limits.patience())) {
        throw new StoreCrowded(notTaken);
      }
      throw notTaken;
    } finally {
      waiting.decrementAndGet();
    }
  }

  private static boolean lasted(long since, Duration time) {
    return System.nanoTime() - since >= time.toNanos();
  }

  /** Whether as many wait as may while nobody gets on. */
  public boolean crowded() {
    return waiting.get() >= limits.waiting() && lasted(moved, limits.still());
  }
}
