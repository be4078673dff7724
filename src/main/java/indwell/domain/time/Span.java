package indwell.domain.time;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;

/**
 * A stretch of time, half-open: the start belongs to it, the end does not. A span whose end equals
 * its start is empty and holds no instant; a span without an end lasts.
 *
 * @param start inclusive
 * @param end exclusive; empty while it lasts
 */
public record Span(Instant start, Optional<Instant> end) {
  public Span {
    if (end.isPresent() && end.get().isBefore(start)) {
      throw new IllegalArgumentException("Span ends " + end.get() + " before it starts " + start);
    }
  }

  /** From the start (inclusive), lasting. */
  public static Span since(Instant start) {
    return new Span(start, Optional.empty());
  }

  /** From the start (inclusive) to the end (exclusive). */
  public static Span between(Instant startInclusive, Instant endExclusive) {
    return new Span(startInclusive, Optional.of(endExclusive));
  }

  /** Whether the instant lies in it. */
  public boolean holds(Instant instant) {
    return !instant.isBefore(start) && (end.isEmpty() || instant.isBefore(end.get()));
  }

  /** Whether it starts and ends at one instant. */
  public boolean isEmpty() {
    return end.isPresent() && end.get().equals(start);
  }

  /** Whether they share an instant; an empty span counts as its own instant. */
  public boolean touches(Instant fromInclusive, Instant toExclusive) {
    boolean startsBefore = start.isBefore(toExclusive);
    boolean endsAfter = end.isEmpty() || end.get().isAfter(fromInclusive);
    boolean pointInside = isEmpty() && !start.isBefore(fromInclusive);
    return startsBefore && (endsAfter || pointInside);
  }

  /** The first whole millisecond since the epoch that is not before the start. */
  public long startMillis() {
    return millisUp(start);
  }

  /**
   * The first whole millisecond since the epoch that is not before the end, {@link Long#MAX_VALUE}
   * while it lasts. With ends put up like this a whole second, as each count time is, lies in the
   * span or not as before.
   */
  public long endMillis() {
    return end.map(Span::millisUp).orElse(Long.MAX_VALUE);
  }

  /** The first whole millisecond since the epoch that is not before the instant. */
  public static long millisUp(Instant instant) {
    long down = instant.toEpochMilli();
    return Instant.ofEpochMilli(down).isBefore(instant) ? down + 1 : down;
  }

  /** The time that both share; empty when they share no instant. */
  public Optional<Span> overlap(Span other) {
    Instant from = start.isAfter(other.start) ? start : other.start;
    Optional<Instant> to = earlier(end, other.end);
    return to.isPresent() && !from.isBefore(to.get())
        ? Optional.empty()
        : Optional.of(new Span(from, to));
  }

  /** What of it lies in none of the others, ascending; empty spans take nothing away. */
  public List<Span> without(Collection<Span> others) {
    List<Span> left = List.of(this);
    for (Span other : others) {
      left = left.stream().flatMap(piece -> piece.without(other).stream()).toList();
    }
    return left;
  }

  private List<Span> without(Span other) {
    if (other.isEmpty() || overlap(other).isEmpty()) {
      return List.of(this);
    }
    List<Span> left = new ArrayList<>();
    if (start.isBefore(other.start)) {
      left.add(between(start, other.start));
    }
    other
        .end
        .filter(cut -> end.isEmpty() || cut.isBefore(end.get()))
        .ifPresent(cut -> left.add(new Span(cut, end)));
    return left;
  }

  private static Optional<Instant> earlier(Optional<Instant> one, Optional<Instant> other) {
    if (one.isEmpty()) {
      return other;
    }
    return other.isEmpty() || one.get().isBefore(other.get()) ? one : other;
  }
}
