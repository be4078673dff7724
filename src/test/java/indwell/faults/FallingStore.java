package indwell.faults;

import indwell.port.ClinicalStore;
import java.time.Instant;
import java.util.function.Consumer;
import java.util.function.Function;

/** A store that tells when a write is about to be committed, and when it was. */
final class FallingStore implements ClinicalStore {
  private final ClinicalStore store;
  private final Consumer<Point> reached;

  FallingStore(ClinicalStore store, Consumer<Point> reached) {
    this.store = store;
    this.reached = reached;
  }

  @Override
  public <T> T write(Function<Writing, T> work) {
    T result =
        store.write(
            writing -> {
              T done = work.apply(writing);
              reached.accept(Point.BEFORE_COMMIT);
              return done;
            });
    reached.accept(Point.AFTER_COMMIT);
    return result;
  }

  @Override
  public <T> T read(Function<Reading, T> work) {
    return store.read(work);
  }

  @Override
  public Instant settle(Instant at) {
    return store.settle(at);
  }

  @Override
  public boolean available() {
    return store.available();
  }

  @Override
  public void close() {
    store.close();
  }
}
