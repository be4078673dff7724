package indwell.web.fhir;

import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * Counts how often the status of an export is asked for: a few times at once, then twice a second.
 */
final class PollLimit {
  static final int AT_ONCE = 10;
  private static final Duration FOR_ONE_MORE = Duration.ofMillis(500);

  /** Exports that are asked about at one time are few; the one not asked about longest goes. */
  private static final int REMEMBERED = 1_000;

  private final Map<String, Instant> usedUpTo =
      new LinkedHashMap<>(16, 0.75f, true) {
        private static final long serialVersionUID = 1L;

        @Override
        protected boolean removeEldestEntry(Map.Entry<String, Instant> eldest) {
          return size() > REMEMBERED;
        }
      };

  /** Whether it may be asked for again; counts it if so. */
  synchronized boolean allow(String id, Instant now) {
    Instant earliest = now.minus(FOR_ONE_MORE.multipliedBy(AT_ONCE));
    Instant used = usedUpTo.getOrDefault(id, earliest);
    Instant next = (used.isBefore(earliest) ? earliest : used).plus(FOR_ONE_MORE);
    if (next.isAfter(now)) {
      return false;
    }
    usedUpTo.put(id, next);
    return true;
  }
}
