package indwell.web.surveillance;

import indwell.port.ClinicalStore;
import java.time.Instant;
import java.util.function.Function;

/** A store that whoever only reads can do with. */
class ReadOnlyStore implements ClinicalStore {
  private final ClinicalStore store;

  ReadOnlyStore(ClinicalStore store) {
    this.store = store;
  }

  @Override
  public <T> T write(Function<Writing, T> work) {
    throw new UnsupportedOperationException("Nothing is to be written here");
  }

  @Override
  public <T> T read(Function<Reading, T> work) {
    return store.read(work);
  }

  @Override
  public Instant settle(Instant at) {
    throw new UnsupportedOperationException("Nothing is to be settled here");
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
