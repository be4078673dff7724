package indwell.domain.rule;

import indwell.domain.timeline.Placement;
import java.math.BigDecimal;
import java.util.List;
import java.util.Optional;

/**
 * The balloon was filled with a volume that differs from its label by more than 0.5 mL (or another
 * set tolerance); from the insertion on. Without both volumes the rule says nothing.
 */
final class BalloonRule implements FlagRule {
  @Override
  public RuleId id() {
    return RuleId.FLAG_BALLOON;
  }

  @Override
  public FlagCode code() {
    return FlagCode.BALLOON_FILL_MISMATCH;
  }

  @Override
  public List<FlagSpan> spans(Placement catheter, Bedside bedside) {
    Optional<BigDecimal> label = catheter.placing().product().balloonLabelMl();
    Optional<BigDecimal> filled = catheter.placing().findings().balloonFilledMl();
    if (label.isEmpty() || filled.isEmpty()) {
      return List.of();
    }
    BigDecimal difference = filled.get().subtract(label.get()).abs();
    if (difference.compareTo(bedside.settings().balloonToleranceMl()) <= 0) {
      return List.of();
    }
    String finding =
        "Filled with "
            + Words.millilitres(filled.get())
            + "; the label says "
            + Words.millilitres(label.get())
            + ".";
    return UntilOut.from(this, catheter, catheter.start(), finding);
  }
}
