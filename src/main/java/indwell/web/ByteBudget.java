package indwell.web;

import java.util.concurrent.atomic.AtomicLong;

/**
 * How many bytes of requests may be held in memory at once. What does not fit is told to come
 * again, before anything has been done for it.
 */
public final class ByteBudget {
  private final long most;
  private final AtomicLong held = new AtomicLong();

  public ByteBudget(long most) {
    this.most = most;
  }

  /** Takes so many bytes, or none and answers false. */
  public boolean take(long bytes) {
    if (held.addAndGet(bytes) <= most) {
      return true;
    }
    held.addAndGet(-bytes);
    return false;
  }

  /** Gives bytes back. */
  public void giveBack(long bytes) {
    held.addAndGet(-bytes);
  }

  /** Bytes that are held now. */
  public long held() {
    return held.get();
  }
}
