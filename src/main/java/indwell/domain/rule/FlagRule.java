package indwell.domain.rule;

import indwell.domain.timeline.Placement;
import java.util.List;

/** One rule that raises one kind of flag. */
public interface FlagRule {
  /** The rule. */
  RuleId id();

  /** The flag that it raises. */
  FlagCode code();

  /**
   * All times in which the rule holds for a catheter, ascending. They are found from the events
   * alone; what the passing of time will bring is there already, as a span that starts later.
   */
  List<FlagSpan> spans(Placement catheter, Bedside bedside);

  /** The same for each catheter of the timeline, in its order. */
  default List<List<FlagSpan>> spans(Bedside bedside) {
    return bedside.timeline().placements().stream()
        .map(catheter -> spans(catheter, bedside))
        .toList();
  }
}
