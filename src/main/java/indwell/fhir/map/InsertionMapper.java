package indwell.fhir.map;

import indwell.domain.event.CatheterEvent.Insertion;
import indwell.domain.event.Ward;
import indwell.fhir.term.Hl7;
import indwell.fhir.term.Profiles;
import indwell.fhir.term.Snomed;
import java.util.Optional;
import org.hl7.fhir.r4.model.Procedure;

/** A catheter is put in. */
public final class InsertionMapper {
  private InsertionMapper() {}

  /**
   * @param insertion bare, without volumes
   * @param ward where the patient was then
   */
  record Content(Insertion insertion, Optional<Ward> ward) {
    static Content of(Insertion bare, Optional<Ward> ward) {
      return new Content(
          new Insertion(
              bare.envelope(), bare.encounter(), PlacingParts.withoutVolumes(bare.placing())),
          ward);
    }
  }

  static Procedure toFhir(Content content, MappingContext context) {
    Insertion insertion = content.insertion();
    Procedure procedure = Parts.procedure(insertion, Profiles.INSERTION, Snomed.INSERTION, context);
    PlacingParts.write(procedure, insertion.placing(), context);
    content.ward().map(ward -> ResourceId.ward(ward).reference()).ifPresent(procedure::setLocation);
    Parts.focalDevice(procedure, insertion.patient(), insertion.catheter(), Hl7.IMPLANTED);
    return procedure;
  }

  /** The event, bare. */
  public static Insertion fromFhir(Procedure procedure, PatientResources all) {
    return new Insertion(
        ProcedureReader.envelope(procedure, all),
        all.encounter(procedure.getEncounter()).orElseThrow(),
        PlacingParts.read(procedure, ProcedureReader.device(procedure, Hl7.IMPLANTED), all));
  }
}
