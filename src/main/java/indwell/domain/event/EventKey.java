package indwell.domain.event;

import java.util.Objects;

/**
 * What makes an event unique: the sending system and the id it gave the event. Ordered by source,
 * then event id, by code point (both are ASCII by contract, so {@link String#compareTo} is that
 * order).
 */
public record EventKey(String source, String eventId) implements Comparable<EventKey> {
  public EventKey {
    Objects.requireNonNull(source);
    Objects.requireNonNull(eventId);
  }

  @Override
  public int compareTo(EventKey other) {
    int bySource = source.compareTo(other.source);
    return bySource != 0 ? bySource : eventId.compareTo(other.eventId);
  }

  /** The value of the event identifier that resources carry: {@code source:eventId}. */
  public String token() {
    return source + ":" + eventId;
  }
}
