package indwell.usecase;

import indwell.contract.PlainFacility;
import indwell.fhir.map.MappingContext;
import indwell.port.ClinicalStore;
import java.time.ZoneId;

/** Flags for tests that ask for stored types only. */
final class FlagsUnused {
  private FlagsUnused() {}

  static PatientFlags of(ClinicalStore store) {
    ZoneId zone = ZoneId.of("Europe/Berlin");
    return new PatientFlags(store, PlainFacility.in(zone), new MappingContext(zone));
  }
}
