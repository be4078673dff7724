package indwell.web.surveillance;

import indwell.contract.ForwardingStore;
import indwell.port.ClinicalStore;
import java.time.Instant;
import java.util.function.Function;

/** A store that whoever only reads can do with. */
class ReadOnlyStore extends ForwardingStore {
  ReadOnlyStore(ClinicalStore store) {
    super(store);
  }

  @Override
  public <T> T write(Function<Writing, T> work) {
    throw new UnsupportedOperationException("Nothing is to be written here");
  }

  @Override
  public Instant settle(Instant at) {
    throw new UnsupportedOperationException("Nothing is to be settled here");
  }
}
