package indwell.fhir.map;

import indwell.domain.event.CatheterEvent.Exchange;
import indwell.domain.event.Ward;
import indwell.fhir.term.Hl7;
import indwell.fhir.term.Profiles;
import indwell.fhir.term.Snomed;
import java.util.Optional;
import org.hl7.fhir.r4.model.Procedure;

/** A catheter is taken out and another one put in: one Procedure with two focal devices. */
public final class ExchangeMapper {
  private ExchangeMapper() {}

  /**
   * @param exchange bare, without volumes
   * @param ward where the patient was then
   */
  record Content(Exchange exchange, Optional<Ward> ward) {
    static Content of(Exchange bare, Optional<Ward> ward) {
      return new Content(
          new Exchange(
              bare.envelope(),
              bare.encounterNamed(),
              bare.catheter(),
              PlacingParts.withoutVolumes(bare.replacement())),
          ward);
    }
  }

  static Procedure toFhir(Content content, MappingContext context) {
    Exchange exchange = content.exchange();
    Procedure procedure = Parts.procedure(exchange, Profiles.EXCHANGE, Snomed.EXCHANGE, context);
    PlacingParts.write(procedure, exchange.replacement(), context);
    content.ward().map(ward -> ResourceId.ward(ward).reference()).ifPresent(procedure::setLocation);
    Parts.focalDevice(procedure, exchange.patient(), exchange.catheter(), Hl7.EXPLANTED);
    Parts.focalDevice(
        procedure, exchange.patient(), exchange.replacement().catheter(), Hl7.IMPLANTED);
    return procedure;
  }

  /** The event, bare. */
  public static Exchange fromFhir(Procedure procedure, PatientResources all) {
    return new Exchange(
        ProcedureReader.envelope(procedure, all),
        ProcedureReader.encounter(procedure, all),
        ProcedureReader.catheter(procedure, Hl7.EXPLANTED, all),
        PlacingParts.read(procedure, ProcedureReader.device(procedure, Hl7.IMPLANTED), all));
  }
}
