package indwell.domain.rule;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.CatheterEvent.NeedReview;
import indwell.domain.event.StatedIndication;
import indwell.domain.time.Span;
import indwell.domain.timeline.Placement;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;

/** What was said over time of why a catheter is in. */
final class Indications {
  private Indications() {}

  /**
   * The state of knowledge between two statements.
   *
   * @param statedBy the insertion, exchange or review that brought it
   * @param latest the latest indication stated so far
   * @param stillNeeded what the latest review said; true before the first
   * @param span from this statement to the next, or to the end of the catheter
   */
  record Known(BedsideEvent statedBy, StatedIndication latest, boolean stillNeeded, Span span) {}

  /**
   * Ascending and without gaps from the insertion on. Of two statements at one instant the last
   * decides: what was overruled at once was never the state of knowledge.
   */
  static List<Known> of(Placement catheter) {
    List<NeedReview> reviews = catheter.facts(NeedReview.class);
    List<Known> known = new ArrayList<>();
    StatedIndication latest = catheter.placing().indication();
    known.add(
        new Known(
            catheter.placedBy(), latest, true, until(catheter, catheter.placedBy(), reviews, 0)));
    for (int i = 0; i < reviews.size(); i++) {
      NeedReview review = reviews.get(i);
      latest = review.indication().orElse(latest);
      known.add(
          new Known(review, latest, review.stillNeeded(), until(catheter, review, reviews, i + 1)));
    }
    known.removeIf(one -> one.span().isEmpty());
    return known;
  }

  private static Span until(
      Placement catheter, BedsideEvent from, List<NeedReview> reviews, int next) {
    return next < reviews.size()
        ? Span.between(from.at(), reviews.get(next).at())
        : new Span(from.at(), catheter.span().end());
  }

  /** The runs of consecutive states that meet a condition, each as its list of states. */
  static List<List<Known>> runs(List<Known> known, Predicate<Known> meets) {
    List<List<Known>> runs = new ArrayList<>();
    Optional<List<Known>> run = Optional.empty();
    for (Known one : known) {
      if (!meets.test(one)) {
        run = Optional.empty();
        continue;
      }
      if (run.isEmpty()) {
        run = Optional.of(new ArrayList<>());
        runs.add(run.get());
      }
      run.get().add(one);
    }
    return runs;
  }
}
