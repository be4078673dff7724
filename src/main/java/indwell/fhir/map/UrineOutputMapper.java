package indwell.fhir.map;

import indwell.domain.event.CatheterId;
import indwell.domain.event.PatientMeasurement.UrineOutput;
import indwell.domain.time.Span;
import indwell.fhir.term.Hl7;
import indwell.fhir.term.Loinc;
import indwell.fhir.term.Profiles;
import indwell.fhir.term.Ucum;
import java.util.Optional;
import org.hl7.fhir.r4.model.Observation;

/** The urine of an interval. */
public final class UrineOutputMapper {
  private UrineOutputMapper() {}

  static Observation toFhir(UrineOutput output, MappingContext context) {
    Observation observation =
        Parts.observation(
            Measured.first(output, output.catheter()),
            Profiles.URINE_OUTPUT,
            Hl7.EXAM,
            Loinc.URINE_OUTPUT);
    observation.setEffective(context.period(Span.between(output.from(), output.at())));
    observation.setValue(Ucum.MILLILITRE.quantity(output.volumeMl()));
    return observation;
  }

  /** The event, bare. */
  public static UrineOutput fromFhir(Observation observation, PatientResources all) {
    Optional<CatheterId> catheter = observation.getFocus().stream().map(all::catheter).findFirst();
    return new UrineOutput(
        ObservationReader.envelope(observation, all),
        all.encounter(observation.getEncounter()),
        PatientResources.instant(observation.getEffectivePeriod().getStartElement()),
        observation.getValueQuantity().getValue(),
        catheter);
  }
}
