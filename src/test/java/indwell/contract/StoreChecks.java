package indwell.contract;

import indwell.port.ClinicalStore;
import indwell.port.ClinicalStore.Reading;
import indwell.port.PatientIndex;
import indwell.port.StoredEvent;
import indwell.port.StoredResource;
import java.util.List;
import java.util.Optional;

/** Reads and writes of one part of the {@link ClinicalStoreContract}, each in a transaction. */
abstract class StoreChecks {
  /** The store that is looked at; empty before each test. */
  abstract ClinicalStore store();

  /** Every question is asked in a transaction of its own. */
  final Reading now() {
    return Now.of(store());
  }

  final void append(StoredEvent... events) {
    store()
        .write(
            writing -> {
              List.of(events).forEach(writing::append);
              return true;
            });
  }

  final void put(StoredResource... resources) {
    store()
        .write(
            writing -> {
              List.of(resources).forEach(writing::put);
              return true;
            });
  }

  final void index(String patientId, PatientIndex index) {
    store()
        .write(
            writing -> {
              writing.index(patientId, Optional.empty(), index);
              return true;
            });
  }
}
