package indwell.domain.rule;

import indwell.domain.event.InsertionStep;
import indwell.domain.event.StepResult;
import indwell.domain.timeline.Placement;
import java.util.Arrays;
import java.util.List;

/**
 * A step of the insertion was charted as not done; from the insertion on. A step that was not
 * charted is not missing.
 */
final class StepsRule implements FlagRule {
  @Override
  public RuleId id() {
    return RuleId.FLAG_STEPS;
  }

  @Override
  public FlagCode code() {
    return FlagCode.INSERTION_STEPS_MISSING;
  }

  @Override
  public List<FlagSpan> spans(Placement catheter, Bedside bedside) {
    List<String> notDone =
        Arrays.stream(InsertionStep.values())
            .filter(step -> catheter.placing().steps().get(step) == StepResult.NOT_DONE)
            .map(InsertionStep::code)
            .toList();
    return notDone.isEmpty()
        ? List.of()
        : UntilOut.from(
            this, catheter, catheter.start(), "Not done: " + String.join(", ", notDone) + ".");
  }
}
