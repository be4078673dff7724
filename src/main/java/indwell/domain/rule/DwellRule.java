package indwell.domain.rule;

import indwell.domain.time.FacilityCalendar;
import indwell.domain.timeline.Placement;
import java.util.List;
import java.util.OptionalInt;

/**
 * A catheter is in place on more calendar days than its maker allows, the insertion day being day
 * 1; from the midnight that begins the first day too many, inclusive.
 */
final class DwellRule implements FlagRule {
  @Override
  public RuleId id() {
    return RuleId.FLAG_DWELL;
  }

  @Override
  public FlagCode code() {
    return FlagCode.DWELL_LIMIT_EXCEEDED;
  }

  @Override
  public List<FlagSpan> spans(Placement catheter, Bedside bedside) {
    OptionalInt limit = catheter.placing().product().maxDwellDays();
    return limit.isEmpty() ? List.of() : spans(catheter, bedside.calendar(), limit.getAsInt());
  }

  private List<FlagSpan> spans(Placement catheter, FacilityCalendar calendar, int limit) {
    return UntilOut.from(
        this,
        catheter,
        calendar.startOf(calendar.dateOf(catheter.start()).plusDays(limit)),
        "In place for more than the "
            + limit
            + " calendar days that the maker allows; inserted on "
            + calendar.dateOf(catheter.start())
            + ".");
  }
}
