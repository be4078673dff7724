package indwell.adapter.store.jdbc;

import indwell.port.StoreCrowded;
import indwell.port.StoreUnavailable;
import java.sql.SQLException;
import java.time.Duration;
import java.util.concurrent.TimeoutException;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.LongSupplier;

/**
 * Where one waits for something of which there are few. As long as somebody gets on, all who come
 * may wait, for so long at most; once nobody does, few may, and whoever comes beyond them is turned
 * away at once. Otherwise every thread of the service would end up here, and who could be told to
 * come again would not be told.
 */
public final class WaitingRoom {
  private final PoolLimits limits;
  private final LongSupplier nanoTime;
  private final AtomicInteger waiting = new AtomicInteger();

  /** When somebody got on last, or began to wait as the first one. */
  private volatile long moved;

  /** When somebody waited in vain last. */
  private volatile long inVain;

  public WaitingRoom(PoolLimits limits) {
    this(limits, System::nanoTime);
  }

  /**
   * @param nanoTime a clock that only goes forward, in nanoseconds since any moment
   */
  WaitingRoom(PoolLimits limits, LongSupplier nanoTime) {
    this.limits = limits;
    this.nanoTime = nanoTime;
    this.moved = nanoTime.getAsLong();
    this.inVain = moved - limits.still().toNanos();
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
    long begun = nanoTime.getAsLong();
    // After somebody has just waited in vain, the next one does not begin a new time of hope.
    if (waiting.getAndIncrement() == 0 && lasted(inVain, limits.still())) {
      moved = begun;
    }
    try {
      T taken = turn.take();
      moved = nanoTime.getAsLong();
      return taken;
    } catch (InterruptedException interrupted) {
      Thread.currentThread().interrupt();
      throw new StoreUnavailable("Interrupted while waiting for the store.", interrupted);
    } catch (SQLException notTaken) {
      if (lasted(begun, limits.patience())) {
        inVain = nanoTime.getAsLong();
        throw new StoreCrowded(notTaken);
      }
      throw notTaken;
    } finally {
      waiting.decrementAndGet();
    }
  }

  private boolean lasted(long since, Duration time) {
    return nanoTime.getAsLong() - since >= time.toNanos();
  }

  /** Whether as many wait as may while nobody gets on. */
  public boolean crowded() {
    return waiting.get() >= limits.waiting() && lasted(moved, limits.still());
  }
}
