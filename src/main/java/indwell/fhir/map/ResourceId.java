package indwell.fhir.map;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.event.CatheterId;
import indwell.domain.event.EventKey;
import indwell.domain.event.Ward;
import indwell.fhir.term.Ids;
import org.hl7.fhir.r4.model.Reference;
import org.hl7.fhir.r4.model.Resource;

/**
 * Type and logical id of a resource. Ids are derived from business identifiers, never random.
 *
 * @param type resource type, {@code Procedure}
 * @param id logical id
 */
public record ResourceId(String type, String id) implements Comparable<ResourceId> {
  /** The Patient with that identifier. */
  public static ResourceId patient(BusinessId patient) {
    return derived("Patient", patient.system(), patient.value());
  }

  /** The Encounter with that identifier; two patients never share one. */
  public static ResourceId encounter(BusinessId patient, BusinessId encounter) {
    return derived(
        "Encounter", patient.system(), patient.value(), encounter.system(), encounter.value());
  }

  /** The Device that is that catheter of that patient. */
  public static ResourceId device(BusinessId patient, CatheterId catheter) {
    return derived("Device", patient.system(), patient.value(), catheter.value());
  }

  /** The Location that is that ward; its id is the ward code itself. */
  public static ResourceId ward(Ward ward) {
    return new ResourceId("Location", ward.code());
  }

  /** The first resource of that type that the event makes. */
  public static ResourceId ofEvent(String type, EventKey key) {
    return derived(type, key.source(), key.eventId());
  }

  /** A further resource of that type that the event makes. */
  public static ResourceId ofEvent(String type, EventKey key, String name) {
    return derived(type, key.source(), key.eventId(), name);
  }

  /** The resource that stands for the event where something refers to it. */
  public static ResourceId mainOf(BedsideEvent event) {
    return switch (event.type()) {
      case PATIENT_ADMITTED, PATIENT_TRANSFERRED, PATIENT_DISCHARGED ->
          encounter(event.patient(), event.encounterNamed().orElseThrow());
      case CATHETER_INSERTED,
          CATHETER_EXCHANGED,
          CATHETER_REMOVED,
          SECUREMENT_CHANGED,
          CARE_CHECKED ->
          ofEvent("Procedure", event.key());
      case NEED_REVIEWED, URINE_MEASURED, WEIGHT_MEASURED -> ofEvent("Observation", event.key());
      case SPECIMEN_COLLECTED -> ofEvent("Specimen", event.key());
    };
  }

  /** Type and id of a resource that has an id. */
  public static ResourceId of(Resource resource) {
    return new ResourceId(resource.fhirType(), resource.getIdElement().getIdPart());
  }

  private static ResourceId derived(String type, String... parts) {
    return new ResourceId(type, Ids.derive(type, parts));
  }

  /** The relative reference as text, {@code Procedure/abc}. */
  public String text() {
    return type + "/" + id;
  }

  /** A fresh relative reference. */
  public Reference reference() {
    return new Reference(text());
  }

  @Override
  public int compareTo(ResourceId other) {
    int byType = type.compareTo(other.type);
    return byType != 0 ? byType : id.compareTo(other.id);
  }
}
