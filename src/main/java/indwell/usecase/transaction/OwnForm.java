package indwell.usecase.transaction;

import ca.uhn.fhir.util.FhirTerser;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.ResourceId;
import indwell.fhir.term.EventIdentifier;
import indwell.fhir.term.Extensions;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.hl7.fhir.r4.model.Device;
import org.hl7.fhir.r4.model.DeviceUseStatement;
import org.hl7.fhir.r4.model.Encounter;
import org.hl7.fhir.r4.model.Extension;
import org.hl7.fhir.r4.model.Identifier;
import org.hl7.fhir.r4.model.Location;
import org.hl7.fhir.r4.model.Meta;
import org.hl7.fhir.r4.model.Observation;
import org.hl7.fhir.r4.model.Patient;
import org.hl7.fhir.r4.model.Procedure;
import org.hl7.fhir.r4.model.Reference;
import org.hl7.fhir.r4.model.Resource;
import org.hl7.fhir.r4.model.Specimen;

/** Brings a resource that was sent into the form in which it would be stored. */
final class OwnForm {
  private static final FhirTerser TERSER = FhirJson.context().newTerser();
  private static final String MOVEMENT_EVENT = "event";

  private OwnForm() {}

  static Taken of(Sent sent, Identity identity, References references) {
    Resource own = sent.resource().copy();
    own.setId(identity.id().id());
    own.setMeta(new Meta().addProfile(sent.profile().canonical()));
    List<String> left = extraIdentifiers(sent);
    setIdentifier(own, identity.identifier().copy());
    for (Reference reference : TERSER.getAllPopulatedChildElementsOfType(own, Reference.class)) {
      references.lead(sent, reference).map(ResourceId::text).ifPresent(reference::setReference);
    }
    if (own instanceof Encounter encounter) {
      encounter
          .getExtensionsByUrl(Extensions.MOVEMENT)
          .forEach(movement -> nameEvent(sent, movement));
    }
    return new Taken(sent, identity, own, left);
  }

  private static List<String> extraIdentifiers(Sent sent) {
    int count = SentIdentifiers.of(sent.resource()).size();
    List<String> left = new ArrayList<>();
    for (int i = 1; i < count; i++) {
      left.add("identifier[" + i + "]");
    }
    return left;
  }

  /** A movement that has another business identifier than that of an event is given one. */
  private static void nameEvent(Sent sent, Extension movement) {
    Optional<Identifier> named =
        Optional.ofNullable(movement.getExtensionByUrl(MOVEMENT_EVENT))
            .map(Extension::getValue)
            .filter(Identifier.class::isInstance)
            .map(Identifier.class::cast);
    Optional<Token> token = named.flatMap(Token::of);
    if (named.isEmpty() || token.isEmpty()) {
      throw sent.entry()
          .refused(
              422,
              IssueCode.NO_IDENTIFIER,
              "resource.extension",
              "A movement has no event with system and value; expected one.");
    }
    if (!token.get().isEvent()) {
      Identifier event = EventIdentifier.of(token.get().event("Encounter"));
      named.get().setSystem(event.getSystem()).setValue(event.getValue());
    }
  }

  private static void setIdentifier(Resource resource, Identifier identifier) {
    List<Identifier> one = List.of(identifier);
    if (resource instanceof Patient patient) {
      patient.setIdentifier(one);
    } else if (resource instanceof Location location) {
      location.setIdentifier(one);
    } else if (resource instanceof Encounter encounter) {
      encounter.setIdentifier(one);
    } else if (resource instanceof Device device) {
      device.setIdentifier(one);
    } else if (resource instanceof DeviceUseStatement use) {
      use.setIdentifier(one);
    } else if (resource instanceof Procedure procedure) {
      procedure.setIdentifier(one);
    } else if (resource instanceof Observation observation) {
      observation.setIdentifier(one);
    } else if (resource instanceof Specimen specimen) {
      specimen.setIdentifier(one);
    } else {
      throw new IllegalArgumentException(resource.fhirType() + " is not taken");
    }
  }

  /** The id of the Patient that a resource names. */
  static Optional<String> patientOf(Resource resource) {
    Reference patient = new Reference();
    if (resource instanceof Encounter encounter) {
      patient = encounter.getSubject();
    } else if (resource instanceof Device device) {
      patient = device.getPatient();
    } else if (resource instanceof DeviceUseStatement use) {
      patient = use.getSubject();
    } else if (resource instanceof Procedure procedure) {
      patient = procedure.getSubject();
    } else if (resource instanceof Observation observation) {
      patient = observation.getSubject();
    } else if (resource instanceof Specimen specimen) {
      patient = specimen.getSubject();
    }
    return Optional.ofNullable(patient.getReferenceElement().getIdPart());
  }
}
