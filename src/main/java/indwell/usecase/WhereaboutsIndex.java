package indwell.usecase;

import indwell.domain.timeline.Timeline;
import indwell.port.ClinicalStore;
import indwell.port.ClinicalStore.Reading;
import indwell.port.ClinicalStore.Writing;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;

/** Works out anew, in a store that an older release wrote, who was where with a catheter when. */
public final class WhereaboutsIndex {
  private static final int BATCH = 200;

  private final ClinicalStore store;

  public WhereaboutsIndex(ClinicalStore store) {
    this.store = store;
  }

  /** Reads every patient's events if that has not been done for this release; else does nothing. */
  public void bringUpToDate() {
    if (store.read(Reading::whereaboutsVersion) >= PatientIndexer.VERSION) {
      return;
    }
    List<String> ids = new ArrayList<>(store.read(EveryPatient::ids));
    for (int from = 0; from < ids.size(); from += BATCH) {
      List<String> batch = ids.subList(from, Math.min(from + BATCH, ids.size()));
      store.write(tx -> read(tx, batch));
    }
    store.write(
        tx -> {
          tx.whereaboutsVersion(PatientIndexer.VERSION);
          return true;
        });
  }

  /** Holds the patients, so that nothing newer is overtaken. */
  private static boolean read(Writing tx, List<String> patientIds) {
    tx.lockPatients(new TreeSet<>(patientIds));
    PatientTimelines.forEach(
        tx,
        patientIds,
        (id, events) -> tx.index(id, Optional.empty(), PatientIndexer.of(Timeline.of(events))));
    return true;
  }
}
