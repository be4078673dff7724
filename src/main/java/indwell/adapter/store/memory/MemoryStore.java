package indwell.adapter.store.memory;

import indwell.port.ClinicalStore;
import indwell.port.Outbox;
import indwell.port.ResourceText;
import indwell.port.Standing;
import indwell.port.StoredResource;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.concurrent.locks.Lock;
import java.util.concurrent.locks.ReadWriteLock;
import java.util.concurrent.locks.ReentrantReadWriteLock;
import java.util.function.Consumer;
import java.util.function.Function;

/**
 * Keeps everything in memory and nothing longer than the process. One transaction writes at a time,
 * and reading waits for it; what a failed one did is undone step by step.
 */
public final class MemoryStore implements ClinicalStore {
  private final State state = new State();
  private final Outbox outbox = new MemoryOutbox(this);
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

  /** Nobody waits for the visitor. */
  @Override
  public void standing(Standing question, Consumer<ResourceText> visit) {
    locked(lock.readLock(), () -> new MemoryReading(state).standing(question).toList())
        .forEach(visit);
  }

  /** What another server has still to be told of the record; as lasting as the store. */
  public Outbox outbox() {
    return outbox;
  }

  /** The changes after the first ones. */
  List<StoredResource> changesAfter(int read) {
    return locked(
        lock.readLock(), () -> List.copyOf(state.changes.subList(read, state.changes.size())));
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
