package indwell.fhir.map;

import indwell.fhir.term.Hl7;
import indwell.fhir.term.LocalCodes;
import indwell.fhir.term.Loinc;
import indwell.fhir.term.Profiles;
import org.hl7.fhir.r4.model.Observation;

/** The urine that drained at once when a catheter was put in. */
public final class InitialDrainageMapper {
  private InitialDrainageMapper() {}

  static Observation toFhir(InsertionVolume volume, MappingContext context) {
    return volume.complete(
        Parts.observation(
            volume.measured(),
            Profiles.INITIAL_DRAINAGE,
            Hl7.EXAM,
            Loinc.URINE_OUTPUT,
            LocalCodes.INITIAL_DRAINAGE),
        context);
  }
}
