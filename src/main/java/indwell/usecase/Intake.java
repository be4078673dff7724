package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import indwell.domain.event.EventVersion;
import indwell.domain.event.EventVersion.Stated;
import indwell.domain.event.Movement.Arrival;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.map.Draft;
import indwell.fhir.map.MappingContext;
import indwell.fhir.map.PlanDiff;
import indwell.fhir.map.ProvenanceMapper;
import indwell.fhir.map.ResourceId;
import indwell.intake.EventResult;
import indwell.intake.Outcome;
import indwell.port.ClinicalStore.Writing;
import indwell.port.ProfileValidator;
import indwell.port.ResourceKey;
import indwell.port.StoredEvent;
import indwell.port.StoredResource;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Stream;

/** Takes one event within one transaction. */
final class Intake {
  private final Writing tx;
  private final ProfileValidator validator;
  private final MappingContext context;
  private final Instant now;

  Intake(Writing tx, ProfileValidator validator, MappingContext context, Instant now) {
    this.tx = tx;
    this.validator = validator;
    this.context = context;
    this.now = now;
  }

  EventResult take(EventVersion event, String canonical) {
    tx.lockEvent(event.key());
    List<StoredEvent> known = tx.versionsOf(event.key());
    Optional<StoredEvent> same =
        known.stream().filter(one -> one.version() == event.version()).findFirst();
    if (same.isPresent()) {
      return duplicateOrConflict(event, canonical, same.get());
    }
    Optional<StoredEvent> highest =
        known.isEmpty() ? Optional.empty() : Optional.of(known.get(known.size() - 1));
    if (highest.isPresent() && highest.get().version() > event.version()) {
      tx.append(stored(event, canonical, List.of()));
      return superseded(event, highest.get());
    }
    List<String> resources = replace(event, highest);
    tx.append(stored(event, canonical, resources));
    return EventResult.of(event, Outcome.RECORDED, resources, List.of());
  }

  private static EventResult duplicateOrConflict(
      EventVersion event, String canonical, StoredEvent same) {
    if (same.canonical().equals(canonical)) {
      return EventResult.of(event, Outcome.DUPLICATE, same.resources(), List.of());
    }
    String diagnostics =
        "Version "
            + event.version()
            + " of event "
            + event.key().token()
            + " is on record with other content; expected the same content or a higher version.";
    return EventResult.of(
        event,
        Outcome.CONFLICT,
        List.of(),
        List.of(Issue.error(IssueCode.VERSION_CONFLICT, "version", diagnostics)));
  }

  private static EventResult superseded(EventVersion event, StoredEvent highest) {
    String diagnostics =
        "Version "
            + event.version()
            + " is kept in the history only; version "
            + highest.version()
            + " of the event is on record.";
    return EventResult.of(
        event,
        Outcome.SUPERSEDED,
        List.of(),
        List.of(Issue.warning(IssueCode.SUPERSEDED, "version", diagnostics)));
  }

  private StoredEvent stored(EventVersion event, String canonical, List<String> resources) {
    boolean withdrawn = event instanceof EventVersion.Withdrawn;
    return new StoredEvent(
        event.key(), event.version(), withdrawn, patientId(event), canonical, now, resources);
  }

  private static String patientId(EventVersion event) {
    return ResourceId.patient(event.patient()).id();
  }

  /** Puts the event in the place of its version before; gives the references to answer. */
  private List<String> replace(EventVersion event, Optional<StoredEvent> before) {
    Optional<BedsideEvent> stated =
        event instanceof Stated one ? Optional.of(one.event()) : Optional.empty();
    SortedSet<String> patients = new TreeSet<>();
    stated.ifPresent(one -> patients.add(patientId(event)));
    before.filter(one -> !one.withdrawn()).ifPresent(one -> patients.add(one.patientId()));
    lock(patients, stated);

    Map<String, PatientState> states = new TreeMap<>();
    patients.forEach(
        id -> states.put(id, PatientState.of(PatientTimelines.eventsOf(tx, id), context)));
    Map<String, PatientState> after = new TreeMap<>();
    states.forEach(
        (id, state) ->
            after.put(
                id,
                state.with(
                    event.key(), stated.filter(one -> id.equals(patientId(event))), context)));

    PlanDiff diff =
        PlanDiff.between(
            states.values().stream().map(PatientState::plan).toList(),
            after.values().stream().map(PatientState::plan).toList());
    ResourceWriter writer = new ResourceWriter(tx, validator, now);
    writer.prepare(diff);
    List<ResourceId> made = made(event.key(), stated.isPresent(), after, diff);
    List<ResourceId> answered = withProvenance(event, before, made, writer);
    writer.write();
    after.forEach((id, state) -> tx.index(id, PatientIndexer.of(state.timeline())));
    return answered.stream().map(ResourceId::text).toList();
  }

  /** Holds the patients, and the ward too where this event is the first to name it. */
  private void lock(SortedSet<String> patients, Optional<BedsideEvent> stated) {
    SortedSet<String> held = new TreeSet<>(patients);
    if (stated.isPresent() && stated.get() instanceof Arrival arrival) {
      ResourceKey ward = new ResourceKey("Location", arrival.ward().code());
      if (tx.resource(ward).isEmpty()) {
        held.add(ward.reference());
      }
    }
    tx.lockPatients(held);
  }

  /** What the event makes now; of one that is taken back, what it made until now. */
  private static List<ResourceId> made(
      EventKey key, boolean stated, Map<String, PatientState> after, PlanDiff diff) {
    Stream<Draft> drafts =
        stated
            ? after.values().stream().flatMap(state -> state.plan().drafts(key).stream())
            : diff.gone().stream()
                .filter(draft -> draft.madeBy().contains(key))
                .filter(draft -> !ResourceWriter.lasts(draft.id().type()));
    return drafts.map(Draft::id).distinct().toList();
  }

  private List<ResourceId> withProvenance(
      EventVersion event,
      Optional<StoredEvent> before,
      List<ResourceId> made,
      ResourceWriter writer) {
    if (made.isEmpty()) {
      return made;
    }
    ResourceId id = ProvenanceMapper.id(event);
    int version =
        tx.resource(new ResourceKey(id.type(), id.id())).map(StoredResource::version).orElse(0);
    writer.prepare(
        ProvenanceMapper.of(event, now, activity(event, before), made, context),
        patientId(event),
        version);
    List<ResourceId> all = new ArrayList<>(made);
    all.add(id);
    return all;
  }

  private static ProvenanceMapper.Activity activity(
      EventVersion event, Optional<StoredEvent> before) {
    if (event instanceof EventVersion.Withdrawn) {
      return ProvenanceMapper.Activity.NULLIFY;
    }
    return before.isEmpty() ? ProvenanceMapper.Activity.CREATE : ProvenanceMapper.Activity.UPDATE;
  }
}
