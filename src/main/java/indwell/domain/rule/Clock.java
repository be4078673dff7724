package indwell.domain.rule;

import indwell.domain.event.BedsideEvent;
import indwell.domain.timeline.Placement;
import indwell.domain.timeline.PlacementEnd;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.BiFunction;
import java.util.function.Function;

/**
 * A clock that starts with the insertion, is set back by certain facts and runs out after a while:
 * the shape of every "overdue".
 */
final class Clock {
  private final FlagRule rule;
  private final boolean onlyAfter;
  private final Function<Instant, Instant> runsOutAt;
  private final BiFunction<BedsideEvent, Instant, String> finding;

  /**
   * @param onlyAfter whether the flag is in force only after the instant at which the clock ran out
   * @param runsOutAt from the instant at which the clock was set to the one at which it runs out
   * @param finding the sentence, from the fact that set the clock and the time it ran out
   */
  Clock(
      FlagRule rule,
      boolean onlyAfter,
      Function<Instant, Instant> runsOutAt,
      BiFunction<BedsideEvent, Instant, String> finding) {
    this.rule = rule;
    this.onlyAfter = onlyAfter;
    this.runsOutAt = runsOutAt;
    this.finding = finding;
  }

  /**
   * The times in which it had run out. The facts are ascending; those before the insertion count
   * for nothing, as every clock starts at the later of the fact and the insertion.
   */
  List<FlagSpan> spans(Placement catheter, List<? extends BedsideEvent> facts) {
    List<BedsideEvent> settings = new ArrayList<>();
    settings.add(catheter.placedBy());
    facts.stream().filter(fact -> fact.at().isAfter(catheter.start())).forEach(settings::add);
    Optional<Instant> last = catheter.end().map(PlacementEnd::at);
    List<FlagSpan> spans = new ArrayList<>();
    for (int i = 0; i < settings.size(); i++) {
      Optional<Instant> next =
          i + 1 < settings.size() ? Optional.of(settings.get(i + 1).at()) : last;
      span(catheter, settings.get(i), next).ifPresent(spans::add);
    }
    return spans;
  }

  private Optional<FlagSpan> span(Placement catheter, BedsideEvent set, Optional<Instant> until) {
    Instant out = runsOutAt.apply(set.at());
    if (until.isPresent() && !out.isBefore(until.get())) {
      return Optional.empty();
    }
    Trace trace = new Trace(rule.id(), finding.apply(set, out), List.of(set));
    return Optional.of(new FlagSpan(rule.code(), catheter, out, onlyAfter, until, trace));
  }
}
