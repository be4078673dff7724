package indwell.boot.traces;

import indwell.port.ClinicalStore;
import indwell.port.ResourceText;
import indwell.port.Standing;
import indwell.port.trace.Errand;
import java.time.Instant;
import java.util.function.Consumer;
import java.util.function.Function;

/** Each transaction as a part of the errand that it is done for. */
final class TracedStore implements ClinicalStore {
  private final ClinicalStore store;

  TracedStore(ClinicalStore store) {
    this.store = store;
  }

  @Override
  public <T> T write(Function<Writing, T> work) {
    return Errand.part("store.write", () -> store.write(work));
  }

  @Override
  public <T> T read(Function<Reading, T> work) {
    return Errand.part("store.read", () -> store.read(work));
  }

  @Override
  public void standing(Standing question, Consumer<ResourceText> visit) {
    store.standing(question, visit);
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
  public boolean crowded() {
    return store.crowded();
  }

  @Override
  public void close() {
    store.close();
  }
}
