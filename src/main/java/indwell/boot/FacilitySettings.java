package indwell.boot;

import indwell.domain.event.Ward;
import indwell.domain.rule.RuleSettings;
import indwell.domain.time.FacilityCalendar;
import indwell.usecase.Facility;
import java.util.HashMap;
import java.util.Map;

/** Turns the configuration into what the use cases ask for. */
final class FacilitySettings {
  private FacilitySettings() {}

  static Facility of(IndwellConfig config) {
    RuleSettings rules = rules(config.rules(), RuleSettings.DEFAULTS);
    Map<Ward, Facility.WardSettings> wards = new HashMap<>();
    config
        .wards()
        .forEach(
            (code, ward) ->
                wards.put(
                    new Ward(code),
                    new Facility.WardSettings(ward.countTime(), rules(ward.rules(), rules))));
    return new Facility(
        new FacilityCalendar(config.facilityZone()), config.countTime(), rules, wards);
  }

  private static RuleSettings rules(IndwellConfig.Rules own, RuleSettings wider) {
    return new RuleSettings(
        own.reviewDueBy().orElse(wider.reviewDueBy()),
        own.securementGoodDays().orElse(wider.securementGoodDays()),
        own.outputChartingWithin().orElse(wider.outputChartingWithin()),
        own.careCheckWithin().orElse(wider.careCheckWithin()),
        own.postoperativeWithin().orElse(wider.postoperativeWithin()),
        own.balloonToleranceMl().orElse(wider.balloonToleranceMl()),
        own.urineReading().orElse(wider.urineReading()));
  }
}
