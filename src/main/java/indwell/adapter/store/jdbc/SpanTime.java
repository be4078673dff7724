package indwell.adapter.store.jdbc;

import java.time.Instant;

/** Ends of a span as a column: epoch milliseconds, the extremes standing for the open ends. */
final class SpanTime {
  private SpanTime() {}

  static long toColumn(Instant instant) {
    if (instant.equals(Instant.MAX)) {
      return Long.MAX_VALUE;
    }
    return instant.equals(Instant.MIN) ? Long.MIN_VALUE : instant.toEpochMilli();
  }

  static Instant fromColumn(long column) {
    if (column == Long.MAX_VALUE) {
      return Instant.MAX;
    }
    return column == Long.MIN_VALUE ? Instant.MIN : Instant.ofEpochMilli(column);
  }
}
