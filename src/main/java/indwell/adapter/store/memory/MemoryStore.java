package indwell.adapter.store.memory;

import indwell.port.ClinicalStore;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.concurrent.locks.Lock;
import java.util.concurrent.locks.ReadWriteLock;
import java.util.concurrent.locks.ReentrantReadWriteLock;
import java.util.function.Function;

/**
 * Keeps everything in memory and nothing longer than the process. One transaction writes at a time,
 * and reading waits for it; what a failed one did is undone step by step.
 */
public final class MemoryStore implements ClinicalStore {
  private final State state = new State();
  private final ReadWriteLock lock = new ReentrantReadWriteLock(true);

  @Override
  public <T> T write(Function<Writing, T> work) {
    return locked(
        lock.writeLock(),
        () -> {
          MemoryWriting writing = new MemoryWriting(state);
          boolean done = false;
          try {
            T result = work.apply(writing);
            done = true;
            return result;
          } finally {
            if (!done) {
              writing.undo();
            }
          }
        });
  }

  @Override
  public <T> T read(Function<Reading, T> work) {
    return locked(lock.readLock(), () -> work.apply(new MemoryReading(state)));
  }

  @Override
  public Instant settle(Instant at) {
    return locked(
        lock.writeLock(),
        () -> {
          Instant wanted = at.truncatedTo(ChronoUnit.MILLIS);
          if (wanted.isAfter(state.settledUntil)) {
            state.settledUntil = wanted;
          }
          return state.settledUntil;
        });
  }

  @Override
  public boolean available() {
    return true;
  }

  @Override
  public void close() {}

  private static <T> T locked(Lock lock, java.util.function.Supplier<T> work) {
    lock.lock();
    try {
      return work.get();
    } finally {
      lock.unlock();
    }
  }
}
