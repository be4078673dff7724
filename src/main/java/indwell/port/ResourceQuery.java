package indwell.port;

import java.util.Optional;
import java.util.Set;

/**
 * A search over the newest versions of the resources of one type. All conditions hold together.
 *
 * @param type resource type
 * @param ids only these ids; empty means any
 * @param identifiers only resources with one of these tokens: {@code system|value}, {@code |value}
 *     (no system: never met here), {@code value} (any system) or {@code system|} (any value); empty
 *     means any
 * @param patientIds only resources of these patients; empty means any
 * @param afterId only ids after this one, for the next page
 * @param limit at most so many
 */
public record ResourceQuery(
    String type,
    Set<String> ids,
    Set<String> identifiers,
    Set<String> patientIds,
    Optional<String> afterId,
    int limit) {
  public ResourceQuery {
    ids = Set.copyOf(ids);
    identifiers = Set.copyOf(identifiers);
    patientIds = Set.copyOf(patientIds);
  }
}
