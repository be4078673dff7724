package indwell.port;

import java.time.Instant;
import java.util.Set;

/**
 * A question about resources as they stood at a time: of each the highest version among those last
 * updated at or before it, whatever came later. After {@link ClinicalStore#settle} the answer for
 * that time never changes.
 *
 * @param types resource types, at least one
 * @param at the time, inclusive
 * @param since only versions last updated after this, exclusive; {@link Instant#MIN} for all
 * @param until only versions last updated before this, exclusive; {@link Instant#MAX} for all
 * @param patientIds only resources of these patients; empty means any, and those of none
 */
public record Standing(
    Set<String> types, Instant at, Instant since, Instant until, Set<String> patientIds) {
  public Standing {
    if (types.isEmpty()) {
      throw new IllegalArgumentException("A question about no type");
    }
    types = Set.copyOf(types);
    patientIds = Set.copyOf(patientIds);
  }
}
