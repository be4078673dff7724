package indwell.domain.rule;

import indwell.domain.time.Span;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * A flag and the times at which a ward would have seen it. Of one catheter and code a ward sees one
 * flag at a time, the one that dates from the earliest; whatever else holds then stands behind it.
 *
 * @param span what was seen last: code, catheter, start and trace
 * @param times when it was seen, ascending, none of it begun after the moment asked about
 * @param end when it was last gone, exclusive; empty while it is in force
 */
public record FlagHistory(FlagSpan span, List<Span> times, Optional<Instant> end) {
  public FlagHistory {
    times = List.copyOf(times);
  }

  /**
   * The flags that have been in force by then, as {@link AllRules#inForce} shows them.
   *
   * @param spans of one patient
   * @param now flags and times that begin after it are left out
   */
  public static List<FlagHistory> upTo(Collection<FlagSpan> spans, Instant now) {
    Map<List<Object>, List<FlagSpan>> byCatheterAndCode = new LinkedHashMap<>();
    spans.stream()
        .sorted(Comparator.comparing(FlagSpan::since))
        .forEach(
            span ->
                byCatheterAndCode
                    .computeIfAbsent(
                        List.of(span.catheter().catheter(), span.code()), key -> new ArrayList<>())
                    .add(span));
    return byCatheterAndCode.values().stream()
        .flatMap(ofOneCode -> seen(ofOneCode, now).stream())
        .toList();
  }

  private static Collection<FlagHistory> seen(List<FlagSpan> bySince, Instant now) {
    Map<Instant, FlagHistory> histories = new LinkedHashMap<>();
    List<Span> taken = new ArrayList<>();
    for (FlagSpan span : bySince) {
      List<Span> free =
          span.timesInForce().stream()
              .flatMap(time -> time.without(taken).stream())
              .filter(time -> begun(time, span, now))
              .toList();
      taken.addAll(span.timesInForce());
      if (!free.isEmpty()) {
        histories.merge(span.since(), of(span, free, now), (one, two) -> one.with(two, now));
      }
    }
    return histories.values();
  }

  private static boolean begun(Span time, FlagSpan span, Instant now) {
    boolean atSince = time.start().equals(span.since());
    return (atSince && span.onlyAfter()) ? now.isAfter(time.start()) : !now.isBefore(time.start());
  }

  private static FlagHistory of(FlagSpan span, List<Span> times, Instant now) {
    List<Span> ascending = times.stream().sorted(Comparator.comparing(Span::start)).toList();
    Optional<Instant> end = ascending.get(ascending.size() - 1).end();
    return new FlagHistory(span, ascending, end.filter(at -> !at.isAfter(now)));
  }

  /** Two reasons that date from one instant are one flag; what was seen last speaks for it. */
  private FlagHistory with(FlagHistory other, Instant now) {
    List<Span> both = new ArrayList<>(times);
    both.addAll(other.times);
    return of(latestStart().isAfter(other.latestStart()) ? span : other.span, both, now);
  }

  private Instant latestStart() {
    return times.get(times.size() - 1).start();
  }
}
