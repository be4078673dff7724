package indwell.intake;

import indwell.domain.event.BusinessId;
import indwell.domain.event.Envelope;
import indwell.domain.event.EventKey;
import indwell.domain.event.EventType;
import java.time.Instant;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** The fields that every event has; each is empty when it is absent or has a fault. */
record EnvelopeReader(
    Optional<String> source,
    Optional<String> eventId,
    Optional<Integer> version,
    boolean withdrawn,
    Optional<EventType> type,
    Optional<Instant> occurredAt,
    Optional<BusinessId> patient,
    Optional<BusinessId> encounter,
    Optional<BusinessId> recorder,
    Optional<ObjectReader> details) {

  private static final Set<EventType> WITHIN_A_STAY =
      Set.of(
          EventType.PATIENT_ADMITTED,
          EventType.PATIENT_TRANSFERRED,
          EventType.PATIENT_DISCHARGED,
          EventType.CATHETER_INSERTED);

  /** Types whose details have optional fields only, so that {@code details} itself is optional. */
  private static final Set<EventType> WITHOUT_REQUIRED_DETAILS =
      Set.of(EventType.PATIENT_DISCHARGED);

  /** Reads the envelope and refuses what it does not know; the details are left to others. */
  static EnvelopeReader read(Map<?, ?> tree, TimeLimits limits, Faults faults) {
    ObjectReader event = ObjectReader.of(tree, "", faults);
    Optional<String> source = event.required("source", Kinds.SOURCE);
    Optional<String> eventId = event.required("eventId", Kinds.EVENT_ID);
    boolean withdrawn = isWithdrawal(tree);
    Optional<Integer> version = version(event, withdrawn);
    event.optional("status", Kinds.STATUS);
    Optional<EventType> type = event.required("type", Kinds.TYPE);
    EnvelopeReader envelope =
        new EnvelopeReader(
            source,
            eventId,
            version,
            withdrawn,
            type,
            event.requiredIf(!withdrawn, "occurredAt", new TimeKind(limits)),
            event.required("patient", Kinds.IDENTIFIER),
            event.requiredIf(
                !withdrawn && isOneOf(WITHIN_A_STAY, type), "encounter", Kinds.IDENTIFIER),
            event.optional("recorder", Kinds.IDENTIFIER),
            details(event, withdrawn, type));
    event.refuseUnknown();
    return envelope;
  }

  private static boolean isOneOf(Set<EventType> types, Optional<EventType> type) {
    return type.filter(types::contains).isPresent();
  }

  private static boolean isWithdrawal(Map<?, ?> tree) {
    return EventStatus.ENTERED_IN_ERROR.code().equals(tree.get("status"));
  }

  private static Optional<Integer> version(ObjectReader event, boolean withdrawn) {
    if (withdrawn || event.has("version")) {
      return event.required("version", Kinds.VERSION);
    }
    event.optional("version", Kinds.VERSION);
    return Optional.of(1);
  }

  /** A withdrawal's details are checked as far as they are given. */
  private static Optional<ObjectReader> details(
      ObjectReader event, boolean withdrawn, Optional<EventType> type) {
    return withdrawn || isOneOf(WITHOUT_REQUIRED_DETAILS, type)
        ? event.objectOrEmpty("details", withdrawn)
        : event.object("details");
  }

  /** The envelope as a value; only when there was no fault. */
  Envelope value() {
    return new Envelope(
        key(), version.orElseThrow(), occurredAt.orElseThrow(), patient.orElseThrow(), recorder);
  }

  EventKey key() {
    return new EventKey(source.orElseThrow(), eventId.orElseThrow());
  }
}
