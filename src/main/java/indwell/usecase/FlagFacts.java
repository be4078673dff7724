package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import indwell.domain.rule.FlagHistory;
import indwell.domain.time.Span;
import indwell.port.StoredEvent;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;

/**
 * A patient's events and when each was written, which tells when a flag last changed.
 *
 * @param events the current ones
 * @param written when the current version of each was taken
 * @param lastCorrection when an event was last taken back or replaced; what it said before may have
 *     been a fact of any flag, and is none any more
 */
record FlagFacts(
    List<BedsideEvent> events, Map<EventKey, Instant> written, Optional<Instant> lastCorrection) {

  static FlagFacts of(List<StoredEvent> stored, Optional<Instant> lastCorrection) {
    Map<EventKey, Instant> written = new HashMap<>();
    stored.forEach(event -> written.put(event.key(), event.receivedAt()));
    return new FlagFacts(PatientTimelines.events(stored), written, lastCorrection);
  }

  /**
   * The later of the last write among the facts and the moment the passing of time began or ended
   * it. Facts are what the trace names, what put the catheter in, and what happened at the moment
   * when the flag came or went.
   */
  Instant lastUpdated(FlagHistory flag) {
    Set<Instant> moments = moments(flag);
    Set<EventKey> facts = facts(flag);
    events.stream()
        .filter(event -> moments.contains(event.at()))
        .map(BedsideEvent::key)
        .forEach(facts::add);
    Stream<Instant> writes =
        facts.stream().flatMap(key -> Optional.ofNullable(written.get(key)).stream());
    return Stream.of(moments.stream(), writes, lastCorrection.stream())
        .flatMap(all -> all)
        .max(Comparator.naturalOrder())
        .orElseThrow()
        .truncatedTo(ChronoUnit.MILLIS);
  }

  private static Set<Instant> moments(FlagHistory flag) {
    Set<Instant> moments = new HashSet<>();
    for (Span time : flag.times()) {
      moments.add(time.start());
      // An end that has not come changes nothing yet.
      time.end()
          .filter(end -> flag.end().isPresent() || isBeforeLast(end, flag))
          .ifPresent(moments::add);
    }
    return moments;
  }

  private static boolean isBeforeLast(Instant end, FlagHistory flag) {
    return !end.isAfter(flag.times().get(flag.times().size() - 1).start());
  }

  private static Set<EventKey> facts(FlagHistory flag) {
    Set<EventKey> facts = new HashSet<>();
    facts.add(flag.span().catheter().placedBy().key());
    flag.span().trace().facts().forEach(fact -> facts.add(fact.key()));
    return facts;
  }
}
