package indwell.usecase;

import indwell.domain.event.Ward;
import indwell.domain.rule.OwnSettings;
import indwell.domain.rule.RuleSettings;
import indwell.domain.rule.SettingsHistory;
import indwell.domain.time.FacilityCalendar;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Map;
import java.util.Optional;

/**
 * What holds in a ward on a date: what the ward has set for itself from some date on, else what is
 * configured.
 *
 * @param own settings of the wards that have described themselves
 */
record HouseRules(Facility facility, Map<Ward, SettingsHistory> own) {
  HouseRules {
    own = Map.copyOf(own);
  }

  FacilityCalendar calendar() {
    return facility.calendar();
  }

  /** The local time at which the ward is counted on that date. */
  LocalTime countTime(Ward ward, LocalDate date) {
    return on(Optional.of(ward), date)
        .flatMap(OwnSettings::countTime)
        .orElseGet(() -> facility.countTimeOf(ward));
  }

  /** The limits that hold in the ward at that instant; those of the facility outside any. */
  RuleSettings rules(Optional<Ward> ward, Instant at) {
    RuleSettings configured = facility.rulesOf(ward);
    return on(ward, calendar().dateOf(at)).map(one -> one.over(configured)).orElse(configured);
  }

  private Optional<OwnSettings> on(Optional<Ward> ward, LocalDate date) {
    return ward.flatMap(one -> historyOf(one).on(date));
  }

  /** Whether the ward has described itself, by its kind or by settings. */
  boolean describes(Ward ward) {
    return own.containsKey(ward);
  }

  /** The ward's own settings; none for a ward that has set nothing. */
  SettingsHistory historyOf(Ward ward) {
    return own.getOrDefault(ward, SettingsHistory.NONE);
  }
}
