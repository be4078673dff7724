package indwell.domain.rule;

import indwell.domain.event.Drainage;
import indwell.domain.event.PatientMeasurement.UrineOutput;
import indwell.domain.timeline.Placement;
import java.time.Duration;
import java.util.List;

/**
 * Output is charted at least every eight hours (or another set time) while a catheter drains into a
 * bag; overdue once more than that has passed since the last measured interval ended.
 */
final class OutputChartingRule implements FlagRule {
  @Override
  public RuleId id() {
    return RuleId.FLAG_OUTPUT_CHARTING;
  }

  @Override
  public FlagCode code() {
    return FlagCode.OUTPUT_CHARTING_OVERDUE;
  }

  @Override
  public List<FlagSpan> spans(Placement catheter, Bedside bedside) {
    if (catheter.placing().drainage() == Drainage.NONE) {
      return List.of();
    }
    Duration within = bedside.settings().outputChartingWithin();
    return new Clock(
            this,
            true,
            set -> set.plus(within),
            (set, due) ->
                (set instanceof UrineOutput ? "The last measured interval ended" : "Inserted")
                    + " at "
                    + bedside.calendar().local(set.at())
                    + "; more than "
                    + Words.hours(within)
                    + " ago without a measured output since.")
        .spans(catheter, bedside.timeline().urine());
  }
}
