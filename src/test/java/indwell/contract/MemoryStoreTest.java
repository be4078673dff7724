package indwell.contract;

import indwell.adapter.store.memory.MemoryStore;
import indwell.port.ClinicalStore;

/** The reference. */
class MemoryStoreTest extends ClinicalStoreContract {
  @Override
  ClinicalStore openEmpty() {
    return new MemoryStore();
  }
}
