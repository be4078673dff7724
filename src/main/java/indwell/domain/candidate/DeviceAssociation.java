package indwell.domain.candidate;

import indwell.domain.rule.RuleId;
import indwell.domain.timeline.CatheterDay;
import java.util.Optional;

/**
 * Whether a candidate is one for a catheter-associated event: whether its date of event is
 * eligible, by the eligibility count of its stay.
 *
 * <p>Rule DEVICE-1. Source: NHSN manual chapter 7, Definitions (rules E2, E3, E8; restated, Taiwan
 * CDC).
 */
final class DeviceAssociation {
  private DeviceAssociation() {}

  /**
   * The association.
   *
   * @param day the date of event; empty outside any stay
   */
  static Ruled<Boolean> of(Optional<CatheterDay> day) {
    boolean eligible = day.filter(CatheterDay::eligible).isPresent();
    String number =
        day.flatMap(CatheterDay::number)
            .map(one -> " It is catheter day " + one.value() + ".")
            .orElse("");
    return Ruled.of(
        eligible,
        RuleId.DEVICE_1,
        eligible
            ? "Candidate for a catheter-associated event: the date of event is eligible." + number
            : "No candidate for a catheter-associated event: the date of event is not eligible."
                + number);
  }
}
