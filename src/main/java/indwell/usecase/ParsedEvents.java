package indwell.usecase;

import indwell.domain.event.EventKey;
import indwell.domain.event.EventVersion;
import indwell.intake.EventReader;
import indwell.port.StoredEvent;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * Reads stored events back and remembers the latest: a patient's events are asked for with each new
 * one. Sound because a version of an event never changes once it is stored.
 */
final class ParsedEvents {
  /** So many are remembered; an event takes about two kilobytes. */
  private static final int REMEMBERED = 2_000;

  private record Version(EventKey key, int version, String canonical) {}

  private final Map<Version, EventVersion> latest =
      new LinkedHashMap<>(16, 0.75f, true) {
        private static final long serialVersionUID = 1L;

        @Override
        protected boolean removeEldestEntry(Map.Entry<Version, EventVersion> eldest) {
          return size() > REMEMBERED;
        }
      };

  /** The event as a value. */
  EventVersion read(StoredEvent stored) {
    Version version = new Version(stored.key(), stored.version(), stored.canonical());
    synchronized (latest) {
      EventVersion known = latest.get(version);
      if (known != null) {
        return known;
      }
    }
    EventVersion read = EventReader.fromCanonical(stored.canonical());
    synchronized (latest) {
      latest.put(version, read);
    }
    return read;
  }
}
