package indwell.fhir.map;

import indwell.domain.event.BusinessId;
import indwell.domain.event.Envelope;
import indwell.domain.event.EventKey;
import indwell.domain.event.Movement;
import indwell.domain.event.Movement.Admission;
import indwell.domain.event.Movement.Discharge;
import indwell.domain.event.Movement.Transfer;
import indwell.domain.event.Ward;
import indwell.fhir.term.Hl7;
import indwell.fhir.term.Ids;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.hl7.fhir.r4.model.CodeableConcept;
import org.hl7.fhir.r4.model.Encounter;
import org.hl7.fhir.r4.model.Encounter.EncounterLocationComponent;
import org.hl7.fhir.r4.model.Encounter.EncounterLocationStatus;
import org.hl7.fhir.r4.model.Encounter.EncounterStatus;

/**
 * The movements of a stay whose Encounter names no events: read from its class, its ward entries
 * and its period. The first entry admits, each further one transfers, the end of a finished
 * Encounter discharges. What such an Encounter cannot say, such as a discharge with the catheter,
 * comes out as not stated.
 *
 * <p>Source: https://hl7.org/fhir/R4/encounter.html, location; the events that come out have ids
 * derived from the stay, the kind and the time.
 */
public final class WardEntries {
  private static final String SOURCE = "fhir";

  private final BusinessId patient;
  private final BusinessId stay;

  private WardEntries(BusinessId patient, BusinessId stay) {
    this.patient = patient;
    this.stay = stay;
  }

  /**
   * What an Encounter tells.
   *
   * @param gaps times in which no ward is named, while the stay goes on
   */
  public record Told(List<Movement> movements, List<Gap> gaps) {
    public Told {
      movements = List.copyOf(movements);
      gaps = List.copyOf(gaps);
    }
  }

  /**
   * A time without a ward.
   *
   * @param ward the one before, which the patient counts in until the next movement
   * @param until empty if nothing comes after it
   */
  public record Gap(Ward ward, Instant from, Optional<Instant> until) {}

  /** The entries of an Encounter that are about wards, ascending by their start. */
  public static List<EncounterLocationComponent> of(Encounter encounter) {
    return encounter.getLocation().stream()
        .filter(entry -> isWard(entry.getPhysicalType()))
        .filter(entry -> isReal(entry.getStatus()))
        .sorted(
            Comparator.comparing(
                entry -> PatientResources.instant(entry.getPeriod().getStartElement())))
        .toList();
  }

  private static boolean isWard(CodeableConcept physicalType) {
    return Hl7.WARD.isIn(physicalType);
  }

  private static boolean isReal(EncounterLocationStatus status) {
    return status != EncounterLocationStatus.PLANNED && status != EncounterLocationStatus.RESERVED;
  }

  /** Reads an Encounter in the form of our own, whose ward entries have a start. */
  public static Told read(Encounter encounter, PatientResources all) {
    return new WardEntries(
            all.patient(encounter.getSubject()),
            PatientResources.businessId(encounter.getIdentifierFirstRep()))
        .tell(encounter);
  }

  private Told tell(Encounter encounter) {
    boolean inpatient = Hl7.INPATIENT.code().equals(encounter.getClass_().getCode());
    List<EncounterLocationComponent> entries = of(encounter);
    Optional<Instant> end = end(encounter);
    List<Movement> movements = new ArrayList<>();
    List<Gap> gaps = new ArrayList<>();
    for (int i = 0; i < entries.size(); i++) {
      EncounterLocationComponent entry = entries.get(i);
      Instant at = PatientResources.instant(entry.getPeriod().getStartElement());
      Ward ward = new Ward(entry.getLocation().getReferenceElement().getIdPart());
      movements.add(
          i == 0
              ? new Admission(envelope("admitted", at), stay, ward, inpatient)
              : new Transfer(envelope("transferred", at), stay, ward, inpatient));
      Optional<Instant> next =
          i + 1 < entries.size()
              ? Optional.of(
                  PatientResources.instant(entries.get(i + 1).getPeriod().getStartElement()))
              : end;
      gap(entry, ward, next).ifPresent(gaps::add);
    }
    end.ifPresent(
        at -> movements.add(new Discharge(envelope("discharged", at), stay, Optional.empty())));
    return new Told(movements, gaps);
  }

  private static Optional<Instant> end(Encounter encounter) {
    return encounter.getStatus() == EncounterStatus.FINISHED
        ? Optional.of(PatientResources.instant(encounter.getPeriod().getEndElement()))
        : Optional.empty();
  }

  private static Optional<Gap> gap(
      EncounterLocationComponent entry, Ward ward, Optional<Instant> next) {
    if (!entry.getPeriod().hasEnd()) {
      return Optional.empty();
    }
    Instant left = PatientResources.instant(entry.getPeriod().getEndElement());
    return next.filter(at -> !at.isAfter(left)).isPresent()
        ? Optional.empty()
        : Optional.of(new Gap(ward, left, next));
  }

  private Envelope envelope(String kind, Instant at) {
    String id =
        Ids.derive(
            "Event",
            "Encounter",
            patient.system(),
            patient.value(),
            stay.system(),
            stay.value(),
            kind,
            at.toString());
    return new Envelope(new EventKey(SOURCE, id), 1, at, patient, Optional.empty());
  }
}
