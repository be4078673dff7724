package indwell.port;

import java.time.Instant;
import java.util.Optional;
import java.util.Set;

/**
 * A question about the resources of one type as they stood at a time: of each the highest version
 * among those last updated at or before it, whatever came later. After {@link ClinicalStore#settle}
 * the answer for that time never changes.
 *
 * @param type resource type
 * @param at the time, inclusive
 * @param since only versions last updated after this, exclusive; {@link Instant#MIN} for all
 * @param until only versions last updated before this, exclusive; {@link Instant#MAX} for all
 * @param patientIds only resources of these patients; empty means any, and those of none
 * @param ids only these ids; empty means any
 * @param afterId only ids after this one, for the next page
 * @param limit at most so many
 */
public record Standing(
    String type,
    Instant at,
    Instant since,
    Instant until,
    Set<String> patientIds,
    Set<String> ids,
    Optional<String> afterId,
    int limit) {
  public Standing {
    patientIds = Set.copyOf(patientIds);
    ids = Set.copyOf(ids);
  }

  /** The same question, for those of the ids alone. */
  public Standing among(Set<String> only) {
    return new Standing(type, at, since, until, patientIds, only, Optional.empty(), limit);
  }
}
