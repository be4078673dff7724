package indwell.domain.event;

import java.time.Instant;
import java.util.Comparator;
import java.util.Optional;

/** Something that happened at the bedside and still stands (the highest version, not withdrawn). */
public sealed interface BedsideEvent permits Movement, CatheterEvent, PatientMeasurement {

  /**
   * The order in which a timeline reads events: by instant, then by {@link
   * EventType#rankWithinInstant()}, then by source and event id. Total over distinct events.
   */
  Comparator<BedsideEvent> TIMELINE_ORDER =
      Comparator.comparing(BedsideEvent::at)
          .thenComparingInt(event -> event.type().rankWithinInstant())
          .thenComparing(BedsideEvent::key);

  /** What every event carries: its key and version, time, patient and recorder. */
  Envelope envelope();

  /** What kind of event it is. */
  EventType type();

  /** The stay that the event names; empty when it names none. */
  Optional<BusinessId> encounterNamed();

  /** When it happened. */
  default Instant at() {
    return envelope().occurredAt();
  }

  /** By which it is known: source and event id, unique over all sources. */
  default EventKey key() {
    return envelope().key();
  }

  /** Whom it happened to. */
  default BusinessId patient() {
    return envelope().patient();
  }
}
