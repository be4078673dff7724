package indwell.usecase.export;

import indwell.port.ClinicalStore;
import indwell.usecase.WardGroups;
import java.util.Set;

/** The Group of a ward, whose patients an export may be confined to. */
public final class WardGroup {
  private WardGroup() {}

  /** Whether there is a group with that id, which is the code of its ward. */
  public static boolean exists(ClinicalStore store, String id) {
    return store.read(state -> WardGroups.exists(state, id));
  }

  /** Ids of its members. */
  public static Set<String> members(ClinicalStore store, String id) {
    return store.read(state -> WardGroups.members(state, id));
  }
}
