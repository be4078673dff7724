package indwell.fhir.map;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.event.CatheterId;
import indwell.fhir.term.EventIdentifier;
import indwell.fhir.term.Snomed;
import indwell.fhir.term.Term;
import java.util.Optional;
import org.hl7.fhir.r4.model.CodeableConcept;
import org.hl7.fhir.r4.model.Identifier;
import org.hl7.fhir.r4.model.Observation;
import org.hl7.fhir.r4.model.Procedure;
import org.hl7.fhir.r4.model.Reference;
import org.hl7.fhir.r4.model.Resource;

/** What the resources of several kinds share. */
final class Parts {
  private Parts() {}

  /** Gives a resource its id and the profile that it claims. */
  static <R extends Resource> R claim(R resource, ResourceId id, String profile) {
    resource.setId(id.id());
    resource.getMeta().addProfile(profile);
    return resource;
  }

  static Identifier identifier(BusinessId id) {
    return new Identifier().setSystem(id.system()).setValue(id.value());
  }

  /** A completed Procedure at the time of the event. */
  static Procedure procedure(
      BedsideEvent event, String profile, Term code, MappingContext context) {
    Procedure procedure =
        claim(new Procedure(), ResourceId.ofEvent("Procedure", event.key()), profile);
    procedure.addIdentifier(EventIdentifier.of(event.key()));
    procedure.setStatus(Procedure.ProcedureStatus.COMPLETED);
    procedure.setCode(code.concept());
    procedure.setSubject(ResourceId.patient(event.patient()).reference());
    encounter(event.patient(), event.encounterNamed()).ifPresent(procedure::setEncounter);
    procedure.setPerformed(context.dateTime(event.at()));
    return procedure;
  }

  /** Says what was done to a catheter. */
  static void focalDevice(
      Procedure procedure, BusinessId patient, CatheterId catheter, Term action) {
    procedure
        .addFocalDevice()
        .setAction(action.concept())
        .setManipulated(ResourceId.device(patient, catheter).reference());
  }

  /** A final Observation, its id and identifier carrying the name if there is one. */
  static Observation observation(Measured measured, String profile, Term category, Term... codes) {
    Observation observation = claim(new Observation(), measured.id(), profile);
    observation.addIdentifier(EventIdentifier.of(measured.key(), measured.name()));
    observation.setStatus(Observation.ObservationStatus.FINAL);
    observation.addCategory(category.concept());
    observation.setCode(concept(codes));
    observation.setSubject(ResourceId.patient(measured.patient()).reference());
    encounter(measured.patient(), measured.encounter()).ifPresent(observation::setEncounter);
    measured
        .catheter()
        .map(catheter -> ResourceId.device(measured.patient(), catheter).reference())
        .ifPresent(observation::addFocus);
    return observation;
  }

  static CodeableConcept bladder() {
    return Snomed.BLADDER.concept();
  }

  private static CodeableConcept concept(Term... codes) {
    CodeableConcept concept = new CodeableConcept();
    for (Term code : codes) {
      concept.addCoding(code.coding());
    }
    return concept;
  }

  private static Optional<Reference> encounter(BusinessId patient, Optional<BusinessId> encounter) {
    return encounter.map(named -> ResourceId.encounter(patient, named).reference());
  }
}
