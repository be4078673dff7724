package indwell.usecase;

import indwell.domain.event.EventVersion;
import indwell.domain.event.EventVersion.Stated;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.map.MappingContext;
import indwell.fhir.map.ResourceId;
import indwell.intake.EventResult;
import indwell.intake.Outcome;
import indwell.port.ClinicalStore.Writing;
import indwell.port.ProfileValidator;
import indwell.port.StoredEvent;
import indwell.usecase.Replacement.Change;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** Takes one event within one transaction. */
final class Intake {
  private final Writing tx;
  private final ProfileValidator validator;
  private final MappingContext context;
  private final Instant now;

  Intake(Writing tx, ProfileValidator validator, MappingContext context, Instant now) {
    this.tx = tx;
    this.validator = validator;
    this.context = context;
    this.now = now;
  }

  EventResult take(EventVersion event, String canonical) {
    tx.lockEvent(event.key());
    List<StoredEvent> known = tx.versionsOf(event.key());
    Optional<StoredEvent> same =
        known.stream().filter(one -> one.version() == event.version()).findFirst();
    if (same.isPresent()) {
      return duplicateOrConflict(event, canonical, same.get());
    }
    Optional<StoredEvent> highest =
        known.isEmpty() ? Optional.empty() : Optional.of(known.get(known.size() - 1));
    if (highest.isPresent() && highest.get().version() > event.version()) {
      tx.append(stored(event, canonical));
      return superseded(event, highest.get());
    }
    return EventResult.of(event, Outcome.RECORDED, replace(event, canonical, highest), List.of());
  }

  private static EventResult duplicateOrConflict(
      EventVersion event, String canonical, StoredEvent same) {
    if (same.canonical().equals(canonical)) {
      return EventResult.of(event, Outcome.DUPLICATE, same.resources(), List.of());
    }
    String diagnostics =
        "Version "
            + event.version()
            + " of event "
            + event.key().token()
            + " is on record with other content; expected the same content or a higher version.";
    return EventResult.of(
        event,
        Outcome.CONFLICT,
        List.of(),
        List.of(Issue.error(IssueCode.VERSION_CONFLICT, "version", diagnostics)));
  }

  private static EventResult superseded(EventVersion event, StoredEvent highest) {
    String diagnostics =
        "Version "
            + event.version()
            + " is kept in the history only; version "
            + highest.version()
            + " of the event is on record.";
    return EventResult.of(
        event,
        Outcome.SUPERSEDED,
        List.of(),
        List.of(Issue.warning(IssueCode.SUPERSEDED, "version", diagnostics)));
  }

  private StoredEvent stored(EventVersion event, String canonical) {
    boolean withdrawn = event instanceof EventVersion.Withdrawn;
    return new StoredEvent(
        event.key(), event.version(), withdrawn, patientId(event), canonical, now, List.of());
  }

  private static String patientId(EventVersion event) {
    return ResourceId.patient(event.patient()).id();
  }

  /** Puts the event in the place of its version before; gives the references to answer. */
  private List<String> replace(EventVersion event, String canonical, Optional<StoredEvent> before) {
    Replacement replacement = new Replacement(tx, validator, context, now);
    List<Change> changes = List.of(new Change(event, canonical, before));
    replacement.hold(
        Replacement.patients(changes),
        event instanceof Stated stated ? List.of(stated.event()) : List.of());
    return replacement
        .write(changes, replacement.after(changes))
        .getOrDefault(event.key(), List.of());
  }
}
