package indwell.adapter.store.jdbc;

import java.time.Instant;
import java.time.temporal.ChronoUnit;

/** Times of writing have milliseconds, so "at or after" a finer time begins with the next one. */
final class MillisUp {
  private MillisUp() {}

  static long of(Instant time) {
    long down = time.toEpochMilli();
    return time.truncatedTo(ChronoUnit.MILLIS).equals(time) ? down : down + 1;
  }
}
