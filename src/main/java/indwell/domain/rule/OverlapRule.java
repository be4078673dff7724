package indwell.domain.rule;

import indwell.domain.event.Route;
import indwell.domain.time.Span;
import indwell.domain.timeline.Placement;
import indwell.domain.timeline.PlacementEnd;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
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
    return firstInstantTogether(catheter, other).stream()
        .map(
            since ->
                new FlagSpan(code(), catheter, since, false, endOfEither(catheter, other), trace));
  }

  /**
   * The later insertion, unless the other one rested then. Once both are in, they rest together.
   */
  private static Optional<Instant> firstInstantTogether(Placement catheter, Placement other) {
    return catheter.timesInPlace().stream()
        .flatMap(mine -> other.timesInPlace().stream().flatMap(its -> mine.overlap(its).stream()))
        .map(Span::start)
        .min(Comparator.naturalOrder());
  }

  private static Optional<Instant> endOfEither(Placement catheter, Placement other) {
    return Stream.of(catheter, other)
        .flatMap(one -> one.end().stream())
        .map(PlacementEnd::at)
        .min(Comparator.naturalOrder());
  }
}
