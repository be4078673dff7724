package indwell.port;

import java.time.Instant;
import java.util.List;

/**
 * One version of a FHIR resource as it is kept.
 *
 * @param version 1 or more; also in the body as {@code meta.versionId}
 * @param lastUpdated to the millisecond; also in the body
 * @param patientId id of the Patient it belongs to; empty for a ward
 * @param identifiers tokens {@code system|value} that a search may find it by
 * @param json the resource as JSON text
 */
public record StoredResource(
    ResourceKey key,
    int version,
    Instant lastUpdated,
    String patientId,
    List<String> identifiers,
    String json) {
  public StoredResource {
    identifiers = List.copyOf(identifiers);
  }

  /**
   * When the version after this one is written: now, and not before this one though the clock may
   * have been put back.
   */
  public Instant timeAfter(Instant now) {
    return now.isBefore(lastUpdated) ? lastUpdated : now;
  }
}
