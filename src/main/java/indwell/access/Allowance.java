package indwell.access;

import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;

/**
 * How often each of many may ask: a bucket of requests for each, which fills up again evenly. Who
 * has not asked for a while has a full one, so the one that was longest silent is forgotten first.
 */
public final class Allowance {
  private static final int MOST_ASKERS = 10_000;

  private final int most;
  private final Duration within;
  private final Map<String, Bucket> buckets =
      new LinkedHashMap<>(64, 0.75f, true) {
        private static final long serialVersionUID = 1L;

        @Override
        protected boolean removeEldestEntry(Map.Entry<String, Bucket> eldest) {
          return size() > MOST_ASKERS;
        }
      };

  /** What is left at a time. */
  private record Bucket(double left, Instant at) {}

  /**
   * @param most requests in a row
   * @param within the time in which as many come back
   */
  public Allowance(int most, Duration within) {
    if (most < 1 || within.isZero() || within.isNegative()) {
      throw new IllegalArgumentException(
          "An allowance of " + most + " within " + within + " lets nobody ask; expected more.");
    }
    this.most = most;
    this.within = within;
  }

  /** Takes one request; otherwise how long to wait for the next one, rounded up to seconds. */
  public synchronized Optional<Duration> take(String asker, Instant now) {
    Bucket before = buckets.getOrDefault(asker, new Bucket(most, now));
    long passed = Math.max(0, Duration.between(before.at(), now).toMillis());
    double perMilli = (double) most / within.toMillis();
    double left = Math.min(most, before.left() + passed * perMilli);
    boolean taken = left >= 1;
    buckets.put(asker, new Bucket(taken ? left - 1 : left, now));
    return taken
        ? Optional.empty()
        : Optional.of(Duration.ofSeconds((long) Math.ceil((1 - left) / perMilli / 1_000)));
  }

  /** What it is, as in a sentence. */
  public String text() {
    return most + " times in " + within.toSeconds() + " s";
  }
}
