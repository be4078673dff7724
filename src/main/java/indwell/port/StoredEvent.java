package indwell.port;

import indwell.domain.event.EventKey;
import java.time.Instant;
import java.util.List;

/**
 * One version of an event as it is kept.
 *
 * @param version 1 or more
 * @param withdrawn whether this version takes the event back
 * @param patientId id of the FHIR Patient that this version names
 * @param canonical the event as canonical JSON: defaults filled in, keys sorted, numbers
 *     normalised; two versions have the same content if and only if these texts are equal
 * @param receivedAt when the service took it
 * @param resources references of the resources that it made, as they were answered
 */
public record StoredEvent(
    EventKey key,
    int version,
    boolean withdrawn,
    String patientId,
    String canonical,
    Instant receivedAt,
    List<String> resources) {
  public StoredEvent {
    resources = List.copyOf(resources);
  }
}
