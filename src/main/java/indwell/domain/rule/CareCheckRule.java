package indwell.domain.rule;

import indwell.domain.event.CatheterEvent.CareCheck;
import indwell.domain.timeline.Placement;
import java.time.Duration;
import java.util.List;

/**
 * Catheter, tubing and bag are checked at least every twelve hours (or another set time); overdue
 * once more than that has passed since the last check or the insertion.
 */
final class CareCheckRule implements FlagRule {
  @Override
  public RuleId id() {
    return RuleId.FLAG_CARE_CHECK;
  }

  @Override
  public FlagCode code() {
    return FlagCode.CARE_CHECK_OVERDUE;
  }

  @Override
  public List<FlagSpan> spans(Placement catheter, Bedside bedside) {
    Duration within = bedside.settings().careCheckWithin();
    return new Clock(
            this,
            true,
            set -> set.plus(within),
            (set, due) ->
                (set instanceof CareCheck ? "The last care check was" : "Inserted")
                    + " at "
                    + bedside.calendar().local(set.at())
                    + "; more than "
                    + Words.hours(within)
                    + " ago without a check since.")
        .spans(catheter, catheter.facts(CareCheck.class));
  }
}
