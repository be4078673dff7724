package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import indwell.domain.event.EventVersion;
import indwell.domain.event.EventVersion.Stated;
import indwell.domain.event.Movement.Arrival;
import indwell.fhir.map.Draft;
import indwell.fhir.map.MappingContext;
import indwell.fhir.map.PlanDiff;
import indwell.fhir.map.ProvenanceMapper;
import indwell.fhir.map.ResourceId;
import indwell.port.ClinicalStore.Writing;
import indwell.port.ProfileValidator;
import indwell.port.ResourceKey;
import indwell.port.StoredEvent;
import indwell.port.StoredResource;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Stream;

/**
 * Puts events in the place of their versions before, within one transaction that holds the events:
 * locks their patients, works out what changes among the resources, and writes that together.
 */
public final class Replacement {
  private final Writing tx;
  private final ProfileValidator validator;
  private final MappingContext context;
  private final Instant now;
  private final Map<String, PatientState> before = new TreeMap<>();

  public Replacement(Writing tx, ProfileValidator validator, MappingContext context, Instant now) {
    this.tx = tx;
    this.validator = validator;
    this.context = context;
    this.now = now;
  }

  /**
   * One event that becomes current.
   *
   * @param canonical its content
   * @param before the highest version until now
   */
  public record Change(EventVersion event, String canonical, Optional<StoredEvent> before) {
    private Optional<BedsideEvent> stated() {
      return event instanceof Stated one ? Optional.of(one.event()) : Optional.empty();
    }

    private String patientId() {
      return ResourceId.patient(event.patient()).id();
    }

    private boolean concerns(String patientId) {
      return stated().isPresent() && patientId.equals(patientId());
    }
  }

  /** Patients whose resources the change may touch. */
  public static SortedSet<String> patients(Collection<Change> changes) {
    SortedSet<String> patients = new TreeSet<>();
    for (Change change : changes) {
      change.stated().ifPresent(one -> patients.add(change.patientId()));
      change
          .before()
          .filter(one -> !one.withdrawn())
          .ifPresent(one -> patients.add(one.patientId()));
    }
    return patients;
  }

  /**
   * Holds the patients, and the wards that nothing has named yet, and reads the patients' events.
   */
  public void hold(SortedSet<String> patients, Collection<? extends BedsideEvent> events) {
    SortedSet<String> held = new TreeSet<>(patients);
    for (BedsideEvent event : events) {
      if (event instanceof Arrival arrival) {
        ResourceKey ward = new ResourceKey("Location", arrival.ward().code());
        if (tx.resource(ward).isEmpty()) {
          held.add(ward.reference());
        }
      }
    }
    tx.lockPatients(held);
    patients.forEach(
        id -> before.put(id, PatientState.of(PatientTimelines.eventsOf(tx, id), context)));
  }

  /** The patients that are held, as they are with the changes. */
  public Map<String, PatientState> after(Collection<Change> changes) {
    Map<String, PatientState> after = new TreeMap<>();
    before.forEach((id, state) -> after.put(id, after(id, state, changes)));
    return after;
  }

  private PatientState after(String id, PatientState state, Collection<Change> changes) {
    Map<EventKey, Optional<BedsideEvent>> versions = new LinkedHashMap<>();
    for (Change change : changes) {
      versions.put(change.event().key(), change.stated().filter(one -> change.concerns(id)));
    }
    return state.with(versions, context);
  }

  /**
   * Writes the changes with all that follows from them.
   *
   * @param after what {@link #after} gave for the same changes
   * @return the references to answer each event with
   */
  public Map<EventKey, List<String>> write(
      Collection<Change> changes, Map<String, PatientState> after) {
    PlanDiff diff =
        PlanDiff.between(
            before.values().stream().map(PatientState::plan).toList(),
            after.values().stream().map(PatientState::plan).toList());
    ResourceWriter writer = new ResourceWriter(tx, validator, now);
    writer.prepare(diff);
    Map<EventKey, List<String>> answered = new LinkedHashMap<>();
    for (Change change : changes) {
      List<ResourceId> made = withProvenance(change, made(change, after, diff), writer);
      answered.put(change.event().key(), made.stream().map(ResourceId::text).toList());
    }
    writer.write();
    after.forEach((id, state) -> tx.index(id, PatientIndexer.of(state.timeline())));
    for (Change change : changes) {
      tx.append(stored(change, answered.getOrDefault(change.event().key(), List.of())));
    }
    return answered;
  }

  private StoredEvent stored(Change change, List<String> resources) {
    return new StoredEvent(
        change.event().key(),
        change.event().version(),
        change.stated().isEmpty(),
        change.patientId(),
        change.canonical(),
        now,
        resources);
  }

  /** What the event makes now; of one that is taken back, what it made until now. */
  private static List<ResourceId> made(
      Change change, Map<String, PatientState> after, PlanDiff diff) {
    EventKey key = change.event().key();
    Stream<Draft> drafts =
        change.stated().isPresent()
            ? after.values().stream().flatMap(state -> state.plan().drafts(key).stream())
            : diff.gone().stream()
                .filter(draft -> draft.madeBy().contains(key))
                .filter(draft -> !ResourceWriter.lasts(draft.id().type()));
    return drafts.map(Draft::id).distinct().toList();
  }

  private List<ResourceId> withProvenance(
      Change change, List<ResourceId> made, ResourceWriter writer) {
    if (made.isEmpty()) {
      return made;
    }
    EventVersion event = change.event();
    ResourceId id = ProvenanceMapper.id(event);
    int version =
        tx.resource(new ResourceKey(id.type(), id.id())).map(StoredResource::version).orElse(0);
    writer.prepare(
        ProvenanceMapper.of(event, now, activity(change), made, context),
        change.patientId(),
        version);
    List<ResourceId> all = new ArrayList<>(made);
    all.add(id);
    return all;
  }

  private static ProvenanceMapper.Activity activity(Change change) {
    if (change.stated().isEmpty()) {
      return ProvenanceMapper.Activity.NULLIFY;
    }
    return change.before().isEmpty()
        ? ProvenanceMapper.Activity.CREATE
        : ProvenanceMapper.Activity.UPDATE;
  }
}
