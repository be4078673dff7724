package indwell.fhir.timeline;

import indwell.domain.event.BedsideEvent;
import indwell.domain.timeline.Timeline;
import indwell.fhir.map.BodyWeightMapper;
import indwell.fhir.map.CareCheckMapper;
import indwell.fhir.map.EnteredInError;
import indwell.fhir.map.ExchangeMapper;
import indwell.fhir.map.InsertionMapper;
import indwell.fhir.map.NeedReviewMapper;
import indwell.fhir.map.PatientResources;
import indwell.fhir.map.RemovalMapper;
import indwell.fhir.map.SecurementMapper;
import indwell.fhir.map.SpecimenMapper;
import indwell.fhir.map.StayMapper;
import indwell.fhir.map.UrineOutputMapper;
import indwell.fhir.term.Profiles;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import org.hl7.fhir.r4.model.Encounter;
import org.hl7.fhir.r4.model.Observation;
import org.hl7.fhir.r4.model.Procedure;
import org.hl7.fhir.r4.model.Resource;
import org.hl7.fhir.r4.model.Specimen;

/**
 * Reads the events of one patient back from the resources that they made.
 *
 * <p>Every event comes back equal to what was sent, except that version and recorder are lost
 * (Provenance has them) and that a specimen no longer names its stay. No timeline, count or rule
 * reads any of the three.
 */
public final class TimelineFromFhir {
  private static final Map<String, Reader<Procedure>> OF_PROCEDURE =
      Map.of(
          Profiles.INSERTION, InsertionMapper::fromFhir,
          Profiles.EXCHANGE, ExchangeMapper::fromFhir,
          Profiles.REMOVAL, RemovalMapper::fromFhir,
          Profiles.SECUREMENT_CHANGE, SecurementMapper::fromFhir,
          Profiles.CARE_CHECK, CareCheckMapper::fromFhir);

  private static final Map<String, Reader<Observation>> OF_OBSERVATION =
      Map.of(
          Profiles.NEED_REVIEW, NeedReviewMapper::fromFhir,
          Profiles.URINE_OUTPUT, UrineOutputMapper::fromFhir,
          Profiles.BODY_WEIGHT, BodyWeightMapper::fromFhir);

  private TimelineFromFhir() {}

  /** Reads the event that made a resource. */
  private interface Reader<R extends Resource> {
    BedsideEvent read(R resource, PatientResources all);
  }

  /** The timeline that the resources of one patient tell. */
  public static Timeline of(Collection<? extends Resource> resources) {
    return Timeline.of(events(resources));
  }

  /**
   * The events behind the current versions of the resources of one patient, in timeline order.
   * Those that were entered in error, and those of other profiles than the patient's own resources
   * have, are passed over.
   *
   * @throws IllegalArgumentException if a resource refers to one of the patient's that is missing
   */
  public static List<BedsideEvent> events(Collection<? extends Resource> resources) {
    List<? extends Resource> valid =
        resources.stream().filter(resource -> !EnteredInError.isMarked(resource)).toList();
    PatientResources all = new PatientResources(valid);
    List<BedsideEvent> events = new ArrayList<>();
    valid.forEach(resource -> events.addAll(read(resource, all)));
    events.sort(BedsideEvent.TIMELINE_ORDER);
    return events;
  }

  /**
   * The events that one resource tells, with the help of those that it refers to; none for a
   * resource that only follows from events.
   *
   * @throws RuntimeException if it lacks what its profile asks for
   */
  public static List<? extends BedsideEvent> read(Resource resource, PatientResources all) {
    if (resource instanceof Encounter encounter) {
      return StayMapper.fromFhir(encounter, all);
    }
    if (resource instanceof Procedure procedure) {
      return read(procedure, OF_PROCEDURE, all);
    }
    if (resource instanceof Observation observation) {
      return read(observation, OF_OBSERVATION, all);
    }
    return resource instanceof Specimen specimen
        ? List.of(SpecimenMapper.fromFhir(specimen, all))
        : List.of();
  }

  private static <R extends Resource> List<BedsideEvent> read(
      R resource, Map<String, Reader<R>> readers, PatientResources all) {
    return readers.entrySet().stream()
        .filter(reader -> PatientResources.claims(resource, reader.getKey()))
        .map(reader -> reader.getValue().read(resource, all))
        .toList();
  }
}
