package indwell.domain.rule;

import indwell.domain.event.Route;
import indwell.domain.timeline.Placement;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;

/**
 * Two urethral catheters are in place at once, with or without a bag; each of them is flagged, from
 * the later insertion on.
 */
final class OverlapRule implements FlagRule {
  @Override
  public RuleId id() {
    return RuleId.FLAG_OVERLAP;
  }

  @Override
  public FlagCode code() {
    return FlagCode.OVERLAPPING_CATHETERS;
  }

  @Override
  public List<FlagSpan> spans(Placement catheter, Bedside bedside) {
    if (catheter.placing().route() != Route.URETHRAL) {
      return List.of();
    }
    return bedside.timeline().placements().stream()
        .filter(other -> !other.equals(catheter) && other.placing().route() == Route.URETHRAL)
        .flatMap(other -> together(catheter, other))
        .sorted(Comparator.comparing(FlagSpan::since))
        .toList();
  }

  private Stream<FlagSpan> together(Placement catheter, Placement other) {
    String finding =
        "Urethral catheters "
            + catheter.catheter().value()
            + " and "
            + other.catheter().value()
            + " are in place at once.";
    Trace trace = new Trace(id(), finding, List.of(catheter.placedBy(), other.placedBy()));
    return catheter.timesInPlace().stream()
        .flatMap(mine -> other.timesInPlace().stream().flatMap(its -> mine.overlap(its).stream()))
        .map(both -> new FlagSpan(code(), catheter, both.start(), false, both.end(), trace));
  }
}
