package indwell.fhir.bundle;

import indwell.fhir.map.PatientResources;
import indwell.fhir.term.BedsideTerms;
import indwell.fhir.term.LocalCodes;
import indwell.fhir.term.Loinc;
import indwell.fhir.term.Profiles;
import indwell.fhir.term.Snomed;
import indwell.fhir.term.Term;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.hl7.fhir.r4.model.CodeableConcept;
import org.hl7.fhir.r4.model.Observation;
import org.hl7.fhir.r4.model.Procedure;
import org.hl7.fhir.r4.model.Resource;

/** The profiles that are taken from callers, and what their resources are to the events. */
public enum TakenProfile {
  PATIENT("Patient", Profiles.PATIENT, Role.FOLLOWS),
  WARD("Location", Profiles.WARD, Role.FOLLOWS),
  STAY("Encounter", Profiles.STAY, Role.MOVEMENTS),
  DEVICE("Device", Profiles.DEVICE, Role.FOLLOWS),
  USE("DeviceUseStatement", Profiles.USE, Role.FOLLOWS),
  INSERTION("Procedure", Profiles.INSERTION, Role.MAIN, Snomed.INSERTION),
  REMOVAL("Procedure", Profiles.REMOVAL, Role.MAIN, Snomed.REMOVAL),
  EXCHANGE("Procedure", Profiles.EXCHANGE, Role.MAIN, Snomed.EXCHANGE),
  SECUREMENT_CHANGE("Procedure", Profiles.SECUREMENT_CHANGE, Role.MAIN, Snomed.ATTENTION),
  CARE_CHECK("Procedure", Profiles.CARE_CHECK, Role.MAIN, Snomed.CARE),
  BALLOON_VOLUME("Observation", Profiles.BALLOON_VOLUME, Role.PART, LocalCodes.BALLOON_VOLUME),
  INITIAL_DRAINAGE(
      "Observation", Profiles.INITIAL_DRAINAGE, Role.PART, LocalCodes.INITIAL_DRAINAGE),
  NEED_REVIEW("Observation", Profiles.NEED_REVIEW, Role.MAIN, LocalCodes.NEED_REVIEW),
  URINE_RATE("Observation", Profiles.URINE_RATE, Role.FOLLOWS, LocalCodes.URINE_RATE),
  CARE_ITEM("Observation", Profiles.CARE_ITEM, Role.PART, BedsideTerms.ITEM_SYSTEM, ""),
  // After those that carry the same LOINC code beside one of our own.
  URINE_OUTPUT("Observation", Profiles.URINE_OUTPUT, Role.MAIN, Loinc.URINE_OUTPUT),
  BODY_WEIGHT("Observation", Profiles.BODY_WEIGHT, Role.MAIN, Loinc.BODY_WEIGHT),
  SPECIMEN("Specimen", Profiles.SPECIMEN, Role.MAIN);

  /** What a resource is to the events. */
  public enum Role {
    /** Makes one event. */
    MAIN,
    /** Makes one event for each of its movement extensions. */
    MOVEMENTS,
    /** Belongs to the event of the Procedure that it is part of. */
    PART,
    /** Follows from events, and has to agree with them. */
    FOLLOWS
  }

  private final String type;
  private final String canonical;
  private final Role role;

  /** Of the code that implies the profile; both empty where the type alone does. */
  private final String system;

  private final String code;

  TakenProfile(String type, String canonical, Role role) {
    this(type, canonical, role, "", "");
  }

  TakenProfile(String type, String canonical, Role role, Term code) {
    this(type, canonical, role, code.system(), code.code());
  }

  TakenProfile(String type, String canonical, Role role, String system, String code) {
    this.type = type;
    this.canonical = canonical;
    this.role = role;
    this.system = system;
    this.code = code;
  }

  /** The one that a resource claims, else the one that its code implies. */
  public static Optional<TakenProfile> of(Resource resource) {
    List<TakenProfile> ofType = ofType(resource.fhirType());
    return ofType.stream()
        .filter(one -> PatientResources.claims(resource, one.canonical))
        .findFirst()
        .or(() -> ofType.stream().filter(one -> one.isImpliedBy(code(resource))).findFirst());
  }

  /** All of a resource type; empty for a type that is not taken. */
  public static List<TakenProfile> ofType(String type) {
    return Arrays.stream(values()).filter(one -> one.type.equals(type)).toList();
  }

  private static CodeableConcept code(Resource resource) {
    if (resource instanceof Procedure procedure) {
      return procedure.getCode();
    }
    return resource instanceof Observation observation
        ? observation.getCode()
        : new CodeableConcept();
  }

  private boolean isImpliedBy(CodeableConcept concept) {
    return system.isEmpty()
        || concept.getCoding().stream()
            .anyMatch(
                coding ->
                    system.equals(coding.getSystem())
                        && (code.isEmpty() || code.equals(coding.getCode())));
  }

  /** The resource type. */
  public String type() {
    return type;
  }

  /** The profile's canonical. */
  public String canonical() {
    return canonical;
  }

  /** What a resource of it is for the events of a patient. */
  public Role role() {
    return role;
  }
}
