package indwell.web.fhir;

import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.ForwardingStore;
import indwell.port.ResourceText;
import indwell.port.Standing;
import indwell.port.StoreUnavailable;
import java.io.IOException;
import java.time.Duration;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Consumer;
import java.util.function.Function;
import org.awaitility.Awaitility;

/** A store whose reader on the thread of exports waits until it is released, or finds it away. */
final class StuckStore extends ForwardingStore {
  private final CountDownLatch released = new CountDownLatch(1);
  private final CountDownLatch reached = new CountDownLatch(1);
  private final AtomicInteger turnedAway = new AtomicInteger();
  private volatile boolean away;

  StuckStore() {
    super(new MemoryStore());
  }

  /** Lets the export go on. */
  void release() {
    released.countDown();
  }

  /** Lets the export go on and find that the store is away. */
  void releaseAway() {
    away = true;
    released.countDown();
  }

  /** Waits until exports have found so many times that the store is away. */
  void awaitTurnedAway(int times) {
    Awaitility.await()
        .pollInterval(Duration.ofMillis(5))
        .atMost(Duration.ofSeconds(30))
        .until(() -> turnedAway.get() >= times);
  }

  /** The store is there again. */
  void comeBack() {
    away = false;
  }

  /** Waits until an export has begun to read. */
  void awaitExport() throws InterruptedException {
    reached.await();
  }

  @Override
  public <T> T read(Function<Reading, T> work) {
    if (stuck()) {
      throw unavailable();
    }
    return super.read(work);
  }

  /** A store that is away is found to be so in the middle of a walk. */
  @Override
  public void standing(Standing question, Consumer<ResourceText> visit) {
    if (stuck()) {
      super.standing(
          question,
          one -> {
            visit.accept(one);
            throw unavailable();
          });
      throw unavailable();
    }
    super.standing(question, visit);
  }

  /** Waits on the thread of exports, and says whether the store is away then. */
  private boolean stuck() {
    if (!Thread.currentThread().getName().equals("indwell-export")) {
      return false;
    }
    reached.countDown();
    try {
      released.await();
    } catch (InterruptedException e) {
      throw new IllegalStateException(e);
    }
    return away;
  }

  private StoreUnavailable unavailable() {
    turnedAway.incrementAndGet();
    return new StoreUnavailable("The store is not available.", new IOException());
  }
}
