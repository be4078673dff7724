package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import indwell.domain.event.EventVersion;
import indwell.domain.event.EventVersion.Stated;
import indwell.domain.event.Movement.Arrival;
import indwell.fhir.map.Draft;
import indwell.fhir.map.MappingContext;
import indwell.fhir.map.PlanDiff;
import indwell.fhir.map.ResourceId;
import indwell.fhir.map.ResourcePlan;
import indwell.port.ClinicalStore.Writing;
import indwell.port.PatientIndex;
import indwell.port.ProfileValidator;
import indwell.port.ResourceKey;
import indwell.port.StoredEvent;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * Puts events in the place of their versions before, within one transaction that holds the events:
 * locks their patients, works out step by step what changes among the resources, and writes all of
 * it together. Each step sees what those before it changed, though nothing is written yet.
 */
public final class Replacement {
  private final Writing tx;
  private final MappingContext context;
  private final ResourceWriter writer;

  /** The patients that are held, as they are after the last step. */
  private final Map<String, PatientState> patients = new TreeMap<>();

  /** Those that were changed, as they were when they were held. */
  private final Map<String, PatientState> changed = new TreeMap<>();

  private final List<StoredEvent> events = new ArrayList<>();

  public Replacement(Writing tx, ProfileValidator validator, MappingContext context) {
    this.tx = tx;
    this.context = context;
    this.writer = new ResourceWriter(tx, validator, context);
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

    boolean isWithdrawal() {
      return stated().isEmpty();
    }

    String patientId() {
      return ResourceId.patient(event.patient()).id();
    }

    private boolean concerns(String patientId) {
      return stated().isPresent() && patientId.equals(patientId());
    }
  }

  /** Patients whose resources the changes may touch. */
  static SortedSet<String> patients(Collection<Change> changes) {
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

  /** The wards that the events name. */
  public static Set<ResourceKey> wards(Collection<? extends BedsideEvent> events) {
    Set<ResourceKey> wards = new TreeSet<>();
    for (BedsideEvent event : events) {
      if (event instanceof Arrival arrival) {
        wards.add(new ResourceKey("Location", arrival.ward().code()));
      }
    }
    return wards;
  }

  /**
   * Holds the patients, and wards, and reads the patients' events.
   *
   * @param unknown wards that nothing has named yet
   */
  public void hold(SortedSet<String> patientIds, Set<ResourceKey> unknown) {
    SortedSet<String> held = new TreeSet<>(patientIds);
    unknown.forEach(ward -> held.add(ward.reference()));
    Map<String, List<StoredEvent>> current = tx.holdPatients(held, patientIds);
    patientIds.forEach(
        id ->
            patients.put(
                id,
                PatientState.of(
                    PatientTimelines.events(current.getOrDefault(id, List.of())), context)));
  }

  /** The patients that are held, as they are with the changes. */
  public Map<String, PatientState> after(Collection<Change> changes) {
    Map<String, PatientState> after = new TreeMap<>(patients);
    // Of a group each event concerns a patient or two: the others are not looked at.
    for (String id : patients(changes)) {
      after.computeIfPresent(id, (same, state) -> after(id, state, changes));
    }
    return after;
  }

  private PatientState after(String id, PatientState state, Collection<Change> changes) {
    Map<EventKey, Optional<BedsideEvent>> versions = new LinkedHashMap<>();
    for (Change change : changes) {
      versions.put(change.event().key(), change.stated().filter(one -> change.concerns(id)));
    }
    return state.with(versions);
  }

  /**
   * Takes a step: the changes are made, and everything that follows from them, once it is written.
   *
   * @param after what {@link #after} gave for the same changes
   * @param now the time to put on what is written
   * @return the events as they will be kept, in the order of the changes
   */
  public List<StoredEvent> step(
      Collection<Change> changes, Map<String, PatientState> after, Instant now) {
    SortedSet<String> concerned = patients(changes);
    PlanDiff diff = PlanDiff.between(plans(patients, concerned), plans(after, concerned));
    ResourceWriter.Step step = new ResourceWriter.Step(diff, keys(changes), now);
    List<StoredEvent> kept = new ArrayList<>();
    for (Change change : changes) {
      List<ResourceId> made = step.provenance(change, made(change, after, concerned, diff));
      kept.add(stored(change, made.stream().map(ResourceId::text).toList(), now));
    }
    events.addAll(kept);
    writer.add(step);
    concerned.stream()
        .filter(patients::containsKey)
        .forEach(id -> changed.putIfAbsent(id, patients.get(id)));
    patients.putAll(after);
    return kept;
  }

  private static Set<EventKey> keys(Collection<Change> changes) {
    return changes.stream().map(change -> change.event().key()).collect(Collectors.toSet());
  }

  /**
   * Keeps an event in the history only, with what it would have left there had it come before its
   * higher version.
   *
   * @param known all other versions of it
   */
  StoredEvent keep(Change change, Collection<StoredEvent> known, Instant now) {
    change
        .stated()
        .map(event -> new LateVersion(event, concerned(change), context).leaves(known))
        .ifPresent(left -> writer.add(new ResourceWriter.Step(left, keys(List.of(change)), now)));
    StoredEvent kept = stored(change, List.of(), now);
    events.add(kept);
    return kept;
  }

  private Map<String, PatientState> concerned(Change change) {
    Map<String, PatientState> concerned = new TreeMap<>(patients);
    concerned.keySet().retainAll(patients(List.of(change)));
    return concerned;
  }

  /**
   * Writes all steps.
   *
   * @throws ProfileViolation when a resource does not meet its profile; then nothing is written
   */
  public void write() {
    writer.write();
    changed.forEach(
        (id, before) ->
            Optional.ofNullable(patients.get(id))
                .ifPresent(now -> tx.index(id, Optional.of(index(before)), index(now))));
    events.forEach(tx::append);
  }

  private static PatientIndex index(PatientState patient) {
    return PatientIndexer.of(patient.timeline());
  }

  private static List<ResourcePlan> plans(Map<String, PatientState> states, Set<String> ids) {
    return ids.stream()
        .flatMap(id -> Stream.ofNullable(states.get(id)))
        .map(PatientState::plan)
        .toList();
  }

  private static StoredEvent stored(Change change, List<String> resources, Instant now) {
    return new StoredEvent(
        change.event().key(),
        change.event().version(),
        change.isWithdrawal(),
        change.patientId(),
        change.canonical(),
        now,
        resources);
  }

  /** What the event makes now; of one that is taken back, what it made until now. */
  private static List<ResourceId> made(
      Change change, Map<String, PatientState> after, Set<String> concerned, PlanDiff diff) {
    EventKey key = change.event().key();
    Stream<Draft> drafts =
        change.isWithdrawal()
            ? diff.gone().stream()
                .filter(draft -> draft.madeBy().contains(key))
                .filter(draft -> !ResourceWriter.lasts(draft.id().type()))
            : plans(after, concerned).stream().flatMap(plan -> plan.drafts(key).stream());
    return drafts.map(Draft::id).distinct().toList();
  }
}
