package indwell.faults;

import indwell.contract.ForwardingStore;
import indwell.port.ClinicalStore;
import java.util.function.Consumer;
import java.util.function.Function;

/** A store that tells when a write is about to be committed, and when it was. */
final class FallingStore extends ForwardingStore {
  private final Consumer<Point> reached;
  private final Point before;
  private final Point after;

  FallingStore(ClinicalStore store, Consumer<Point> reached) {
    this(store, reached, Point.BEFORE_COMMIT, Point.AFTER_COMMIT);
  }

  /** With names of its own for the two. */
  FallingStore(ClinicalStore store, Consumer<Point> reached, Point before, Point after) {
    super(store);
    this.reached = reached;
    this.before = before;
    this.after = after;
  }

  @Override
  public <T> T write(Function<Writing, T> work) {
    T result =
        super.write(
            writing -> {
              T done = work.apply(writing);
              reached.accept(before);
              return done;
            });
    reached.accept(after);
    return result;
  }
}
