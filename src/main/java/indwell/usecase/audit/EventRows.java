package indwell.usecase.audit;

import indwell.domain.event.EventVersion;
import indwell.domain.event.EventVersion.Withdrawn;
import indwell.fhir.map.ProvenanceMapper;
import indwell.fhir.map.ResourceId;
import indwell.intake.EventResult;
import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Interaction;
import indwell.port.AuditEntry.Origin;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Optional;

/**
 * The row of an event that was sent: about its Provenance, whose id is derived from the event's
 * key, so that the row of an event is found whether or not the event made anything.
 */
public final class EventRows {
  private EventRows() {}

  /** The row of an event that could be read. */
  public static AuditEntry of(
      Origin origin, EventVersion event, Instant receivedAt, EventResult result) {
    return row(
        origin,
        interaction(event),
        receivedAt,
        Optional.of(ProvenanceMapper.id(event).text()),
        Optional.of(ResourceId.patient(event.patient()).id()),
        result);
  }

  /** The row of one that could not. */
  public static AuditEntry unread(Origin origin, Instant receivedAt, EventResult result) {
    return row(origin, Interaction.CREATE, receivedAt, Optional.empty(), Optional.empty(), result);
  }

  private static Interaction interaction(EventVersion event) {
    if (event instanceof Withdrawn) {
      return Interaction.DELETE;
    }
    return event.version() > 1 ? Interaction.UPDATE : Interaction.CREATE;
  }

  private static AuditEntry row(
      Origin origin,
      Interaction interaction,
      Instant receivedAt,
      Optional<String> entity,
      Optional<String> patient,
      EventResult result) {
    return new AuditEntry(
        receivedAt.truncatedTo(ChronoUnit.MILLIS),
        origin,
        interaction,
        entity,
        patient,
        "",
        result.status(),
        Optional.empty());
  }
}
