package indwell.usecase;

import indwell.domain.rule.RuleSettings;
import indwell.domain.time.FacilityCalendar;
import indwell.fhir.map.MappingContext;
import indwell.port.ClinicalStore;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.Map;

/** Flags for tests that ask for stored types only. */
final class FlagsUnused {
  private FlagsUnused() {}

  static PatientFlags of(ClinicalStore store) {
    ZoneId zone = ZoneId.of("Europe/Berlin");
    return new PatientFlags(
        store,
        new Facility(
            new FacilityCalendar(zone), LocalTime.MIDNIGHT, RuleSettings.DEFAULTS, Map.of()),
        new MappingContext(zone));
  }
}
