package indwell.fhir.map;

import indwell.domain.event.CatheterEvent.SecurementChange;
import indwell.fhir.term.Hl7;
import indwell.fhir.term.LocalCodes;
import indwell.fhir.term.Profiles;
import indwell.fhir.term.Snomed;
import java.util.Optional;
import org.hl7.fhir.r4.model.CodeableConcept;
import org.hl7.fhir.r4.model.Procedure;

/** The securement of a catheter is replaced. */
public final class SecurementMapper {
  private SecurementMapper() {}

  static Procedure toFhir(SecurementChange change, MappingContext context) {
    Procedure procedure =
        Parts.procedure(change, Profiles.SECUREMENT_CHANGE, Snomed.ATTENTION, context);
    change.site().ifPresent(site -> procedure.addBodySite(new CodeableConcept().setText(site)));
    Parts.focalDevice(procedure, change.patient(), change.catheter(), Hl7.MANIPULATED);
    procedure.addUsedCode(LocalCodes.SECUREMENT.concept());
    return procedure;
  }

  /** The event, bare. */
  public static SecurementChange fromFhir(Procedure procedure, PatientResources all) {
    Optional<String> site =
        procedure.getBodySite().stream().map(CodeableConcept::getText).findFirst();
    return new SecurementChange(
        ProcedureReader.envelope(procedure, all),
        ProcedureReader.encounter(procedure, all),
        ProcedureReader.catheter(procedure, Hl7.MANIPULATED, all),
        site);
  }
}
