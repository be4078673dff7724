package indwell.fhir.map;

import indwell.domain.event.CatheterEvent.Removal;
import indwell.fhir.term.Hl7;
import indwell.fhir.term.Profiles;
import indwell.fhir.term.Snomed;
import java.util.Optional;
import org.hl7.fhir.r4.model.CodeableConcept;
import org.hl7.fhir.r4.model.Procedure;

/** A catheter is taken out. */
public final class RemovalMapper {
  private RemovalMapper() {}

  static Procedure toFhir(Removal removal, MappingContext context) {
    Procedure procedure = Parts.procedure(removal, Profiles.REMOVAL, Snomed.REMOVAL, context);
    removal
        .reason()
        .ifPresent(reason -> procedure.addReasonCode(new CodeableConcept().setText(reason)));
    Parts.focalDevice(procedure, removal.patient(), removal.catheter(), Hl7.EXPLANTED);
    return procedure;
  }

  /** The event, bare. */
  public static Removal fromFhir(Procedure procedure, PatientResources all) {
    Optional<String> reason =
        procedure.getReasonCode().stream().map(CodeableConcept::getText).findFirst();
    return new Removal(
        ProcedureReader.envelope(procedure, all),
        ProcedureReader.encounter(procedure, all),
        ProcedureReader.catheter(procedure, Hl7.EXPLANTED, all),
        reason);
  }
}
