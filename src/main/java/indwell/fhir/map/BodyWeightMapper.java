package indwell.fhir.map;

import indwell.domain.event.PatientMeasurement.BodyWeight;
import indwell.fhir.term.Hl7;
import indwell.fhir.term.Loinc;
import indwell.fhir.term.Profiles;
import indwell.fhir.term.Ucum;
import java.util.Optional;
import org.hl7.fhir.r4.model.Observation;

/** The body weight of a patient. */
public final class BodyWeightMapper {
  private BodyWeightMapper() {}

  static Observation toFhir(BodyWeight weight, MappingContext context) {
    Observation observation =
        Parts.observation(
            Measured.first(weight, Optional.empty()),
            Profiles.BODY_WEIGHT,
            Hl7.VITAL_SIGNS,
            Loinc.BODY_WEIGHT);
    observation.setEffective(context.dateTime(weight.at()));
    observation.setValue(Ucum.KILOGRAM.quantity(weight.kg()));
    return observation;
  }

  /** The event, bare. */
  public static BodyWeight fromFhir(Observation observation, PatientResources all) {
    return new BodyWeight(
        ObservationReader.envelope(observation, all),
        all.encounter(observation.getEncounter()),
        observation.getValueQuantity().getValue());
  }
}
