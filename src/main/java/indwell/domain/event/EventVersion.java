package indwell.domain.event;

import java.util.Optional;

/** One version of an event as it was sent: what happened, or that it is taken back. */
public sealed interface EventVersion permits EventVersion.Stated, EventVersion.Withdrawn {

  /** The event that it is a version of. */
  EventKey key();

  /** 1 or more. */
  int version();

  /** Whom this version is about; another version may be about another patient. */
  BusinessId patient();

  /** What kind of event this version says it was. */
  EventType type();

  /** A version with status {@code final}. */
  record Stated(BedsideEvent event) implements EventVersion {
    @Override
    public EventKey key() {
      return event.key();
    }

    @Override
    public int version() {
      return event.envelope().version();
    }

    @Override
    public BusinessId patient() {
      return event.patient();
    }

    @Override
    public EventType type() {
      return event.type();
    }
  }

  /** A version with status {@code entered-in-error}: the event is taken back. */
  record Withdrawn(
      EventKey key, int version, EventType type, BusinessId patient, Optional<BusinessId> recorder)
      implements EventVersion {}
}
