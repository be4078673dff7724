package indwell.fhir.map;

import indwell.domain.event.BusinessId;
import indwell.domain.event.Envelope;
import indwell.domain.event.EventType;
import indwell.domain.event.Movement;
import indwell.domain.event.Movement.Admission;
import indwell.domain.event.Movement.Arrival;
import indwell.domain.event.Movement.Discharge;
import indwell.domain.event.Movement.Transfer;
import indwell.domain.event.Ward;
import indwell.fhir.term.EventIdentifier;
import indwell.fhir.term.Extensions;
import java.util.Optional;
import org.hl7.fhir.r4.model.BooleanType;
import org.hl7.fhir.r4.model.CodeType;
import org.hl7.fhir.r4.model.Extension;
import org.hl7.fhir.r4.model.Identifier;
import org.hl7.fhir.r4.model.Reference;
import org.hl7.fhir.r4.model.StringType;

/** A movement event as the extension {@code catheter-movement} of its Encounter. */
final class MovementExtension {
  private static final String EVENT = "event";
  private static final String KIND = "kind";
  private static final String AT = "at";
  private static final String WARD = "ward";
  private static final String INPATIENT = "inpatient";
  private static final String WITH_CATHETER = "withCatheter";

  private MovementExtension() {}

  static Extension toFhir(Movement movement, MappingContext context) {
    Extension extension = new Extension(Extensions.MOVEMENT);
    extension.addExtension(EVENT, EventIdentifier.of(movement.key()));
    extension.addExtension(KIND, new CodeType(movement.type().code()));
    extension.addExtension(AT, context.dateTime(movement.at()));
    if (movement instanceof Arrival arrival) {
      extension.addExtension(WARD, ResourceId.ward(arrival.ward()).reference());
      extension.addExtension(INPATIENT, new BooleanType(arrival.inpatient()));
    }
    if (movement instanceof Discharge discharge) {
      discharge
          .withCatheter()
          .ifPresent(with -> extension.addExtension(WITH_CATHETER, new BooleanType(with)));
    }
    return extension;
  }

  static Movement fromFhir(Extension extension, BusinessId patient, BusinessId stay) {
    Envelope envelope =
        new Envelope(
            EventIdentifier.read((Identifier) extension.getExtensionByUrl(EVENT).getValue()),
            1,
            PatientResources.instant(extension.getExtensionByUrl(AT).getValue()),
            patient,
            Optional.empty());
    String kind = ((StringType) extension.getExtensionByUrl(KIND).getValue()).getValue();
    if (kind.equals(EventType.PATIENT_DISCHARGED.code())) {
      return new Discharge(envelope, stay, flag(extension, WITH_CATHETER));
    }
    boolean inpatient = flag(extension, INPATIENT).orElse(true);
    return kind.equals(EventType.PATIENT_ADMITTED.code())
        ? new Admission(envelope, stay, ward(extension), inpatient)
        : new Transfer(envelope, stay, ward(extension), inpatient);
  }

  private static Ward ward(Extension extension) {
    Reference ward = (Reference) extension.getExtensionByUrl(WARD).getValue();
    return new Ward(ward.getReferenceElement().getIdPart());
  }

  private static Optional<Boolean> flag(Extension extension, String part) {
    return Optional.ofNullable(extension.getExtensionByUrl(part))
        .map(found -> ((BooleanType) found.getValue()).booleanValue());
  }
}
