package indwell.adapter.store.jdbc;

import indwell.domain.time.Span;
import indwell.domain.timeline.CountedTime;
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

  /** The span of two columns; the largest number stands for no end. */
  static Span span(long start, long end) {
    Instant from = Instant.ofEpochMilli(start);
    return end == Long.MAX_VALUE ? Span.since(from) : Span.between(from, Instant.ofEpochMilli(end));
  }

  /** The same time to the millisecond, up: whole seconds lie in it or not as before. */
  static CountedTime up(CountedTime time) {
    return new CountedTime(
        time.ward(),
        up(time.span()),
        time.withCatheter().map(SpanTime::up).filter(part -> !part.isEmpty()));
  }

  private static Span up(Span span) {
    return span(span.startMillis(), span.endMillis());
  }
}
