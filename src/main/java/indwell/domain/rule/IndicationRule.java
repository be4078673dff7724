package indwell.domain.rule;

import indwell.domain.event.BedsideEvent;
import indwell.domain.rule.Indications.Known;
import indwell.domain.timeline.Placement;
import java.util.List;

/**
 * The latest indication is one that the guideline calls inappropriate, or the last review said that
 * the catheter is no longer needed; from the first event of the unbroken run that made it so.
 */
final class IndicationRule implements FlagRule {
  @Override
  public RuleId id() {
    return RuleId.FLAG_INDICATION;
  }

  @Override
  public FlagCode code() {
    return FlagCode.NO_ACCEPTED_INDICATION;
  }

  @Override
  public List<FlagSpan> spans(Placement catheter, Bedside bedside) {
    return Indications.runs(Indications.of(catheter), IndicationRule::notAccepted).stream()
        .map(run -> span(catheter, run))
        .toList();
  }

  private static boolean notAccepted(Known known) {
    return !known.stillNeeded() || !known.latest().code().accepted();
  }

  private FlagSpan span(Placement catheter, List<Known> run) {
    Known first = run.get(0);
    Known last = run.get(run.size() - 1);
    String finding =
        last.stillNeeded()
            ? "The latest indication is "
                + last.latest().code().code()
                + ", which the guideline does not accept."
            : "The last review said that the catheter is no longer needed.";
    List<BedsideEvent> facts =
        run.size() == 1 ? List.of(last.statedBy()) : List.of(last.statedBy(), first.statedBy());
    return new FlagSpan(
        code(),
        catheter,
        first.span().start(),
        false,
        last.span().end(),
        new Trace(id(), finding, facts));
  }
}
