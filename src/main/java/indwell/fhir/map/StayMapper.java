package indwell.fhir.map;

import indwell.domain.event.BusinessId;
import indwell.domain.event.Movement;
import indwell.domain.event.Ward;
import indwell.domain.time.Span;
import indwell.fhir.term.Extensions;
import indwell.fhir.term.Hl7;
import indwell.fhir.term.Profiles;
import indwell.fhir.term.Term;
import java.util.List;
import java.util.Optional;
import org.hl7.fhir.r4.model.Encounter;
import org.hl7.fhir.r4.model.Encounter.EncounterLocationStatus;
import org.hl7.fhir.r4.model.Encounter.EncounterStatus;

/**
 * A stay. The Encounter says how the timeline reads it; its movement extensions say what was sent,
 * whether the timeline could use it or not.
 */
public final class StayMapper {
  private StayMapper() {}

  /**
   * @param span empty for a stay that no admission or transfer opened
   * @param wards without zero-length entries, ascending, without overlap
   * @param movements all movement events that name the stay, bare, in timeline order
   */
  record Content(
      BusinessId patient,
      BusinessId encounter,
      Optional<Span> span,
      Kind kind,
      List<WardEntry> wards,
      List<Movement> movements) {}

  /** Time in one ward. */
  record WardEntry(Ward ward, Span span) {}

  /** What FHIR calls the class of an encounter. */
  enum Kind {
    /** At least one movement so far was inpatient. */
    INPATIENT,
    /** No movement so far was. */
    AMBULATORY,
    /** There is no movement that opened it. */
    UNKNOWN;

    private Term term() {
      return switch (this) {
        case INPATIENT -> Hl7.INPATIENT;
        case AMBULATORY -> Hl7.AMBULATORY;
        case UNKNOWN -> Hl7.CLASS_UNKNOWN;
      };
    }
  }

  static Encounter toFhir(Content stay, MappingContext context) {
    ResourceId id = ResourceId.encounter(stay.patient(), stay.encounter());
    Encounter encounter = Parts.claim(new Encounter(), id, Profiles.STAY);
    for (Movement movement : stay.movements()) {
      encounter.addExtension(MovementExtension.toFhir(movement, context));
    }
    encounter.addIdentifier(Parts.identifier(stay.encounter()));
    encounter.setStatus(status(stay.span()));
    encounter.setClass_(stay.kind().term().coding());
    encounter.setSubject(ResourceId.patient(stay.patient()).reference());
    stay.span().map(context::period).ifPresent(encounter::setPeriod);
    for (WardEntry entry : stay.wards()) {
      addWard(encounter, entry, context);
    }
    return encounter;
  }

  private static EncounterStatus status(Optional<Span> span) {
    if (span.isEmpty()) {
      return EncounterStatus.UNKNOWN;
    }
    return span.get().end().isPresent() ? EncounterStatus.FINISHED : EncounterStatus.INPROGRESS;
  }

  private static void addWard(Encounter encounter, WardEntry entry, MappingContext context) {
    boolean over = entry.span().end().isPresent();
    encounter
        .addLocation()
        .setLocation(ResourceId.ward(entry.ward()).reference())
        .setStatus(over ? EncounterLocationStatus.COMPLETED : EncounterLocationStatus.ACTIVE)
        .setPhysicalType(Hl7.WARD.concept())
        .setPeriod(context.period(entry.span()));
  }

  /** The movements that were sent for the stay. */
  public static List<Movement> fromFhir(Encounter encounter, PatientResources all) {
    BusinessId patient = all.patient(encounter.getSubject());
    BusinessId stay = PatientResources.businessId(encounter.getIdentifierFirstRep());
    return encounter.getExtensionsByUrl(Extensions.MOVEMENT).stream()
        .map(extension -> MovementExtension.fromFhir(extension, patient, stay))
        .toList();
  }
}
