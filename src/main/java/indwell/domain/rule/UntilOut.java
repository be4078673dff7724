package indwell.domain.rule;

import indwell.domain.timeline.Placement;
import indwell.domain.timeline.PlacementEnd;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** Flags that, once up, stay up until the catheter is out. */
final class UntilOut {
  private UntilOut() {}

  /** From the instant (inclusive) to the end of the catheter; none when it ended before. */
  static List<FlagSpan> from(FlagRule rule, Placement catheter, Instant since, String finding) {
    Optional<Instant> end = catheter.end().map(PlacementEnd::at);
    if (end.isPresent() && !since.isBefore(end.get())) {
      return List.of();
    }
    Trace trace = new Trace(rule.id(), finding, List.of(catheter.placedBy()));
    return List.of(new FlagSpan(rule.code(), catheter, since, false, end, trace));
  }
}
