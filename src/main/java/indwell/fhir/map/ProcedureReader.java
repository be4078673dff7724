package indwell.fhir.map;

import indwell.domain.event.BusinessId;
import indwell.domain.event.CatheterId;
import indwell.domain.event.Envelope;
import indwell.fhir.term.Term;
import java.util.Optional;
import org.hl7.fhir.r4.model.Procedure;
import org.hl7.fhir.r4.model.Procedure.ProcedureFocalDeviceComponent;
import org.hl7.fhir.r4.model.Reference;

/** Reads what the Procedures of all kinds share. */
final class ProcedureReader {
  private ProcedureReader() {}

  static Envelope envelope(Procedure procedure, PatientResources all) {
    return all.envelope(
        procedure.getIdentifierFirstRep(),
        PatientResources.instant(procedure.getPerformed()),
        procedure.getSubject());
  }

  static Optional<BusinessId> encounter(Procedure procedure, PatientResources all) {
    return all.encounter(procedure.getEncounter());
  }

  static CatheterId catheter(Procedure procedure, Term action, PatientResources all) {
    return all.catheter(device(procedure, action));
  }

  static Reference device(Procedure procedure, Term action) {
    return procedure.getFocalDevice().stream()
        .filter(device -> action.isIn(device.getAction()))
        .map(ProcedureFocalDeviceComponent::getManipulated)
        .findFirst()
        .orElseThrow();
  }
}
