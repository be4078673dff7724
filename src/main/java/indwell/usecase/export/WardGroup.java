package indwell.usecase.export;

import indwell.domain.event.Ward;
import indwell.port.ClinicalStore;
import java.time.Instant;
import java.util.Set;

/** The Group of a ward: the patients who were ever in it, by the events that stand. */
public final class WardGroup {
  private WardGroup() {}

  /** Whether there is a group with that id, which is the code of its ward. */
  public static boolean exists(ClinicalStore store, String id) {
    return store.read(state -> state.knowsWard(new Ward(id)));
  }

  /** Ids of its members. */
  public static Set<String> members(ClinicalStore store, String id) {
    return store.read(
        state -> state.patientsInWards(Set.of(new Ward(id)), Instant.MIN, Instant.MAX));
  }
}
