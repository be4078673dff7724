package indwell.domain.rule;

import indwell.domain.event.CatheterEvent.NeedReview;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.timeline.Placement;
import java.util.List;

/**
 * A need review is due by noon (or another set time) on the day after the insertion, and by then on
 * the day after the last day with a review; overdue from that instant, inclusive.
 */
final class NeedReviewRule implements FlagRule {
  @Override
  public RuleId id() {
    return RuleId.FLAG_NEED_REVIEW;
  }

  @Override
  public FlagCode code() {
    return FlagCode.NEED_REVIEW_OVERDUE;
  }

  @Override
  public List<FlagSpan> spans(Placement catheter, Bedside bedside) {
    FacilityCalendar calendar = bedside.calendar();
    return new Clock(
            this,
            false,
            set -> calendar.at(calendar.dateOf(set).plusDays(1), bedside.settings().reviewDueBy()),
            (set, due) ->
                "No need review since the "
                    + (set instanceof NeedReview ? "last one" : "insertion")
                    + " at "
                    + calendar.local(set.at())
                    + "; it was due by "
                    + calendar.local(due)
                    + ".")
        .spans(catheter, catheter.facts(NeedReview.class));
  }
}
