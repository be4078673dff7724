package indwell.fhir.map;

import indwell.domain.event.Envelope;
import java.time.Instant;
import org.hl7.fhir.r4.model.Observation;
import org.hl7.fhir.r4.model.Type;

/** Reads what the Observations of all kinds share. */
final class ObservationReader {
  private ObservationReader() {}

  /** Of an interval, the event occurred at the end. */
  static Envelope envelope(Observation observation, PatientResources all) {
    return all.envelope(
        observation.getIdentifierFirstRep(),
        occurred(observation.getEffective(), observation),
        observation.getSubject());
  }

  private static Instant occurred(Type effective, Observation observation) {
    return observation.hasEffectivePeriod()
        ? PatientResources.instant(observation.getEffectivePeriod().getEndElement())
        : PatientResources.instant(effective);
  }
}
