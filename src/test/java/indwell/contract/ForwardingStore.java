package indwell.contract;

import indwell.port.ClinicalStore;
import indwell.port.ResourceText;
import indwell.port.Standing;
import java.time.Instant;
import java.util.function.Consumer;
import java.util.function.Function;

/** A store that hands everything on to another one, for tests that get in between. */
public class ForwardingStore implements ClinicalStore {
  private final ClinicalStore store;

  protected ForwardingStore(ClinicalStore store) {
    this.store = store;
  }

  @Override
  public <T> T write(Function<Writing, T> work) {
    return store.write(work);
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
  public void standing(Standing question, Consumer<ResourceText> visit) {
    store.standing(question, visit);
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
