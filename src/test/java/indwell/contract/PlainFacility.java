package indwell.contract;

import indwell.domain.rule.RuleSettings;
import indwell.domain.time.FacilityCalendar;
import indwell.usecase.Facility;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.Map;

/** A facility that counts at midnight and has set nothing else of its own. */
public final class PlainFacility {
  private PlainFacility() {}

  /** One in this time zone. */
  public static Facility in(ZoneId zone) {
    return new Facility(
        new FacilityCalendar(zone), LocalTime.MIDNIGHT, RuleSettings.DEFAULTS, Map.of());
  }
}
