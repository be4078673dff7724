package indwell.contract;

import indwell.adapter.store.memory.MemoryFacts;
import indwell.port.SurveillanceFacts;

/** The reference. */
class MemoryFactsTest extends SurveillanceFactsContract {
  @Override
  SurveillanceFacts openEmpty() {
    return new MemoryFacts();
  }

  @Override
  void closeAll() {}
}
