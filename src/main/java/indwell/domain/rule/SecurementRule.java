package indwell.domain.rule;

import indwell.domain.event.CatheterEvent.SecurementChange;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.timeline.Placement;
import java.util.List;

/**
 * A securement is good on the day it was applied and seven more (or another set number); overdue
 * from the start of the day after, inclusive. It counts as applied at the insertion.
 */
final class SecurementRule implements FlagRule {
  @Override
  public RuleId id() {
    return RuleId.FLAG_SECUREMENT;
  }

  @Override
  public FlagCode code() {
    return FlagCode.SECUREMENT_CHANGE_OVERDUE;
  }

  @Override
  public List<FlagSpan> spans(Placement catheter, Bedside bedside) {
    FacilityCalendar calendar = bedside.calendar();
    int goodDays = bedside.settings().securementGoodDays();
    return new Clock(
            this,
            false,
            applied -> calendar.startOf(calendar.dateOf(applied).plusDays(goodDays + 1L)),
            (applied, due) ->
                "Securement applied on "
                    + calendar.dateOf(applied.at())
                    + "; its last good day was "
                    + calendar.dateOf(applied.at()).plusDays(goodDays)
                    + ".")
        .spans(catheter, catheter.facts(SecurementChange.class));
  }
}
