package indwell.faults;

import indwell.contract.ForwardingStore;
import indwell.port.ClinicalStore;
import java.util.function.Consumer;
import java.util.function.Function;

/** A store that tells when a write is about to be committed, and when it was. */
final class FallingStore extends ForwardingStore {
  private final Consumer<Point> reached;

  FallingStore(ClinicalStore store, Consumer<Point> reached) {
    super(store);
    this.reached = reached;
  }

  @Override
  public <T> T write(Function<Writing, T> work) {
    T result =
        super.write(
            writing -> {
              T done = work.apply(writing);
              reached.accept(Point.BEFORE_COMMIT);
              return done;
            });
    reached.accept(Point.AFTER_COMMIT);
    return result;
  }
}
