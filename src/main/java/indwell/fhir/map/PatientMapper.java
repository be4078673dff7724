package indwell.fhir.map;

import indwell.domain.event.BusinessId;
import indwell.fhir.term.Profiles;
import org.hl7.fhir.r4.model.Patient;

/** The patient, known by the identifier that events name and nothing else. */
public final class PatientMapper {
  private PatientMapper() {}

  static Patient toFhir(BusinessId patient) {
    Patient resource = Parts.claim(new Patient(), ResourceId.patient(patient), Profiles.PATIENT);
    resource.addIdentifier(Parts.identifier(patient));
    return resource;
  }
}
