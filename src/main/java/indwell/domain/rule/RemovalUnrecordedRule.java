package indwell.domain.rule;

import indwell.domain.event.BedsideEvent;
import indwell.domain.timeline.Placement;
import indwell.domain.timeline.PlacementEnd;
import indwell.domain.timeline.PlacementEnd.How;
import java.util.List;

/**
 * The patient was discharged, not on purpose with the catheter, and neither a removal nor an
 * exchange is on record; from the discharge until one is.
 */
final class RemovalUnrecordedRule implements FlagRule {
  @Override
  public RuleId id() {
    return RuleId.FLAG_REMOVAL_UNRECORDED;
  }

  @Override
  public FlagCode code() {
    return FlagCode.REMOVAL_NOT_RECORDED;
  }

  @Override
  public List<FlagSpan> spans(Placement catheter, Bedside bedside) {
    return catheter.end().filter(end -> end.how() == How.DISCHARGED).stream()
        .map(end -> span(catheter, end, bedside))
        .toList();
  }

  private FlagSpan span(Placement catheter, PlacementEnd end, Bedside bedside) {
    String finding =
        "Discharged at "
            + bedside.calendar().local(end.at())
            + "; no removal or exchange of the catheter is on record.";
    Trace trace = new Trace(id(), finding, List.of(end.by(), catheter.placedBy()));
    return new FlagSpan(
        code(), catheter, end.at(), false, end.recordedLater().map(BedsideEvent::at), trace);
  }
}
