package indwell.domain.time;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;

/** What is done with several spans at once. */
public final class Spans {
  private Spans() {}

  /** What of the span lies in none of the others, ascending; empty spans take nothing away. */
  public static List<Span> without(Span span, Collection<Span> others) {
    List<Span> left = List.of(span);
    for (Span other : others) {
      List<Span> less = new ArrayList<>();
      left.forEach(piece -> less.addAll(without(piece, other)));
      left = less;
    }
    return left;
  }

  private static List<Span> without(Span span, Span other) {
    if (other.isEmpty() || span.overlap(other).isEmpty()) {
      return List.of(span);
    }
    List<Span> left = new ArrayList<>();
    if (span.start().isBefore(other.start())) {
      left.add(Span.between(span.start(), other.start()));
    }
    other
        .end()
        .filter(end -> span.end().isEmpty() || end.isBefore(span.end().get()))
        .ifPresent(end -> left.add(new Span(end, span.end())));
    return left;
  }
}
