package indwell.usecase;

import indwell.domain.rule.FlagHistory;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.FlagMapper;
import indwell.fhir.map.MappingContext;
import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import java.time.Instant;
import java.util.Date;
import java.util.List;
import org.hl7.fhir.r4.model.Flag;

/**
 * A flag as a resource, which has no versions.
 *
 * @param flag with {@code meta.lastUpdated}
 * @param patientId id of the Patient it is about
 * @param lastUpdated to the millisecond
 */
public record FlagResource(Flag flag, String patientId, Instant lastUpdated) {
  /** The version number of what has none. */
  public static final int NO_VERSION = 0;

  static FlagResource of(
      FlagHistory history, String patientId, Instant lastUpdated, MappingContext context) {
    Flag flag =
        history
            .end()
            .map(end -> FlagMapper.past(history.span(), end, context))
            .orElseGet(() -> FlagMapper.active(history.span(), context));
    flag.getMeta().setLastUpdated(Date.from(lastUpdated));
    return new FlagResource(flag, patientId, lastUpdated);
  }

  /** Its logical id. */
  public String id() {
    return flag.getIdElement().getIdPart();
  }

  /** In the form of what is stored, with {@link #NO_VERSION}. */
  public StoredResource asStored() {
    return new StoredResource(
        new ResourceKey("Flag", id()),
        NO_VERSION,
        lastUpdated,
        patientId,
        List.of(),
        FhirJson.encode(flag));
  }
}
