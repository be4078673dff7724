package indwell.usecase;

import indwell.domain.event.Ward;
import indwell.domain.rule.RuleSettings;
import indwell.domain.time.FacilityCalendar;
import java.time.LocalTime;
import java.util.Map;
import java.util.Optional;

/**
 * What a facility has set for itself and its wards.
 *
 * @param calendar its time zone
 * @param countTime local time of the daily count, unless a ward has its own
 * @param rules limits of the flags, unless a ward has its own
 * @param wards what single wards have set
 */
public record Facility(
    FacilityCalendar calendar,
    LocalTime countTime,
    RuleSettings rules,
    Map<Ward, WardSettings> wards) {
  public Facility {
    wards = Map.copyOf(wards);
  }

  /** A ward's own settings. */
  public record WardSettings(Optional<LocalTime> countTime, RuleSettings rules) {}

  /** The local time at which the ward is counted, by what is configured. */
  public LocalTime countTimeOf(Ward ward) {
    return settingsOf(Optional.of(ward)).flatMap(WardSettings::countTime).orElse(countTime);
  }

  /** The limits that are configured for the ward; those of the facility outside any. */
  public RuleSettings rulesOf(Optional<Ward> ward) {
    return settingsOf(ward).map(WardSettings::rules).orElse(rules);
  }

  private Optional<WardSettings> settingsOf(Optional<Ward> ward) {
    return ward.flatMap(one -> Optional.ofNullable(wards.get(one)));
  }
}
