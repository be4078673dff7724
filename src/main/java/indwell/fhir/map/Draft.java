package indwell.fhir.map;

import indwell.domain.event.EventKey;
import java.util.Set;
import java.util.function.Supplier;
import org.hl7.fhir.r4.model.Resource;

/**
 * A resource that is to be, not built yet.
 *
 * @param id type and id
 * @param patientId id of the Patient it belongs to; empty for a ward
 * @param madeBy the current events that have a share in it
 * @param fingerprint all that the builder reads, as a value: drafts of one id with equal
 *     fingerprints build equal resources
 * @param builder makes the resource, without {@code meta.versionId} and {@code meta.lastUpdated}
 */
public record Draft(
    ResourceId id,
    String patientId,
    Set<EventKey> madeBy,
    Object fingerprint,
    Supplier<Resource> builder) {
  /** Makes the resource; a fresh one with every call. */
  public Resource build() {
    return builder.get();
  }
}
