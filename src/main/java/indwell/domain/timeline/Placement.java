package indwell.domain.timeline;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.CatheterEvent;
import indwell.domain.event.CatheterId;
import indwell.domain.event.Placing;
import indwell.domain.time.Span;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * One catheter from the insertion (or exchange) that put it in place to what ended that.
 *
 * @param placedBy the insertion or exchange
 * @param placing what was put in
 * @param end what ended it; empty while it is in place or rests
 * @param rests times at home after a discharge on purpose with the catheter; counting nowhere. One
 *     without an end was never over: the catheter rests still, or its end found it at rest
 * @param facts what was done to it while it was in place or rested, in timeline order: reviews,
 *     securement changes, care checks, specimens
 */
public record Placement(
    BedsideEvent placedBy,
    Placing placing,
    Optional<PlacementEnd> end,
    List<Span> rests,
    List<CatheterEvent> facts) {
  public Placement {
    rests = List.copyOf(rests);
    facts = List.copyOf(facts);
  }

  /** The catheter that was put in; its id is unique within the patient. */
  public CatheterId catheter() {
    return placing.catheter();
  }

  /** The insertion; inclusive. */
  public Instant start() {
    return placedBy.at();
  }

  /** From the insertion to the end, rests included. */
  public Span span() {
    return new Span(start(), end.map(PlacementEnd::at));
  }

  /** Whether it is in place at that instant: inserted, not ended, not at rest. */
  public boolean inPlaceAt(Instant instant) {
    return span().holds(instant) && rests.stream().noneMatch(rest -> rest.holds(instant));
  }

  /** Whether it rests and nothing has ended that. */
  public boolean resting() {
    return end.isEmpty() && !rests.isEmpty() && rests.get(rests.size() - 1).end().isEmpty();
  }

  /** The times in place: the span without the rests, ascending. */
  public List<Span> timesInPlace() {
    List<Span> times = new ArrayList<>();
    Instant from = start();
    for (Span rest : rests) {
      times.add(Span.between(from, rest.start()));
      if (rest.end().isEmpty()) {
        return times;
      }
      from = rest.end().get();
    }
    times.add(new Span(from, end.map(PlacementEnd::at)));
    return times;
  }

  /** The facts of one kind, in timeline order. */
  public <T extends CatheterEvent> List<T> facts(Class<T> kind) {
    return facts.stream().filter(kind::isInstance).map(kind::cast).toList();
  }
}
