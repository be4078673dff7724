package indwell.usecase;

import indwell.domain.event.EventKey;
import indwell.fhir.map.Draft;
import indwell.fhir.map.EnteredInError;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.Identifiers;
import indwell.fhir.map.MappingContext;
import indwell.fhir.map.PlanDiff;
import indwell.fhir.map.ProvenanceMapper;
import indwell.fhir.map.ProvenanceMapper.Activity;
import indwell.fhir.map.ResourceId;
import indwell.fhir.search.SearchValues;
import indwell.port.ClinicalStore.Writing;
import indwell.port.ProfileValidator;
import indwell.port.ProfileValidator.Finding;
import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import indwell.port.trace.Errand;
import indwell.usecase.Replacement.Change;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Date;
import java.util.Deque;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.hl7.fhir.r4.model.Resource;

/**
 * Writes resources as their next versions, each validated against its profile before any is. What
 * several steps change is read and written together. What an event makes gets a version for each
 * event; what merely follows from events, as rates do from a weight, gets one for all of them: a
 * thousand weights of one patient are not worth a thousand versions of each rate.
 */
final class ResourceWriter {
  /** What is identified by its business identifier alone: written once, and never taken back. */
  private static final Set<String> LASTING = Set.of("Patient", "Location");

  private final Writing store;
  private final ProfileValidator validator;
  private final MappingContext context;
  private final List<Step> steps = new ArrayList<>();

  /** The newest versions, with those that are ready. */
  private final Map<ResourceKey, StoredResource> newest = new HashMap<>();

  private final List<StoredResource> ready = new ArrayList<>();

  /** Of those that are ready the last versions. */
  private final Map<ResourceKey, Last> last = new LinkedHashMap<>();

  private record Last(StoredResource stored, Resource resource) {}

  ResourceWriter(Writing store, ProfileValidator validator, MappingContext context) {
    this.store = store;
    this.validator = validator;
    this.context = context;
  }

  /** What one step changes, and the events that it comes from. */
  static final class Step {
    private final PlanDiff diff;
    private final Set<EventKey> events;
    private final Instant now;
    private final Map<Change, List<ResourceId>> targets = new LinkedHashMap<>();

    /**
     * @param events those whose change this is
     * @param now the time to put on what is written
     */
    Step(PlanDiff diff, Set<EventKey> events, Instant now) {
      this.diff = diff;
      this.events = events;
      this.now = now;
    }

    /**
     * What has to be written, less what merely follows and is written again behind this step.
     *
     * @param later what is written behind this step; what this one writes is added, and what it
     *     takes back is taken out, for that keeps its last content
     */
    private List<Draft> writtenUnlessOvertaken(Set<ResourceKey> later) {
      List<Draft> kept =
          diff.written().stream()
              .filter(draft -> later.add(key(draft.id())) || isMadeHere(draft))
              .toList();
      diff.gone().forEach(draft -> later.remove(key(draft.id())));
      return kept;
    }

    private boolean isMadeHere(Draft draft) {
      return !Collections.disjoint(draft.madeBy(), events);
    }

    /** Adds the Provenance of an event that made something; gives what it made, with that. */
    List<ResourceId> provenance(Change change, List<ResourceId> made) {
      if (made.isEmpty()) {
        return made;
      }
      targets.put(change, made);
      return Stream.concat(made.stream(), Stream.of(ProvenanceMapper.id(change.event()))).toList();
    }

    private Stream<ResourceKey> keys() {
      return Stream.of(
              diff.written().stream().map(Draft::id),
              diff.gone().stream().map(Draft::id),
              targets.keySet().stream().map(change -> ProvenanceMapper.id(change.event())))
          .flatMap(ids -> ids)
          .map(ResourceWriter::key);
    }
  }

  /** Adds a step behind those before; nothing is written yet. */
  void add(Step step) {
    steps.add(step);
  }

  /** Whether resources of that type stay when no event makes them any more. */
  static boolean lasts(String type) {
    return LASTING.contains(type);
  }

  /**
   * Writes all steps.
   *
   * @throws ProfileViolation when a resource does not meet its profile; then none is written
   */
  void write() {
    Set<ResourceKey> keys = new TreeSet<>();
    steps.forEach(step -> step.keys().forEach(keys::add));
    newest.putAll(store.resources(keys));
    Errand.part("resources.map", this::prepareAll);
    ready.forEach(store::put);
    last.values().forEach(one -> store.findBy(one.stored(), SearchValues.of(one.resource())));
  }

  private int prepareAll() {
    Deque<List<Draft>> written = new ArrayDeque<>();
    Set<ResourceKey> later = new HashSet<>();
    for (int i = steps.size() - 1; i >= 0; i--) {
      written.addFirst(steps.get(i).writtenUnlessOvertaken(later));
    }
    steps.forEach(step -> prepare(step, written.removeFirst()));
    return ready.size();
  }

  private void prepare(Step step, List<Draft> written) {
    for (Draft draft : written) {
      ResourceKey key = key(draft.id());
      if (!(newest.containsKey(key) && lasts(key.type()))) {
        prepare(draft.build(), draft.patientId(), step.now);
      }
    }
    for (Draft draft : step.diff.gone()) {
      StoredResource before = newest.get(key(draft.id()));
      if (before != null && !lasts(before.key().type())) {
        EnteredInError.mark(FhirJson.parse(before.json()))
            .ifPresent(last -> prepare(last, before.patientId(), step.now));
      }
    }
    step.targets.forEach((change, made) -> prepareProvenance(change, made, step.now));
  }

  private void prepareProvenance(Change change, List<ResourceId> made, Instant now) {
    prepare(
        ProvenanceMapper.of(change.event(), now, activity(change), made, context),
        change.patientId(),
        now);
  }

  private static Activity activity(Change change) {
    if (change.isWithdrawal()) {
      return Activity.NULLIFY;
    }
    return change.before().isEmpty() ? Activity.CREATE : Activity.UPDATE;
  }

  /** Makes a resource ready as the version after its newest. */
  private void prepare(Resource resource, String patientId, Instant now) {
    ResourceKey key = key(ResourceId.of(resource));
    StoredResource before = newest.get(key);
    int version = before == null ? 1 : before.version() + 1;
    Instant at = before == null ? now : before.timeAfter(now);
    resource.getMeta().setVersionId(Integer.toString(version)).setLastUpdated(Date.from(at));
    StoredResource next =
        new StoredResource(
            key,
            version,
            at,
            patientId,
            Identifiers.tokensOf(resource),
            FhirJson.encodeMapped(resource));
    validate(next);
    newest.put(key, next);
    ready.add(next);
    last.put(key, new Last(next, resource));
  }

  private void validate(StoredResource resource) {
    for (Finding finding : validator.validate(resource.json())) {
      if (finding.isError()) {
        throw new ProfileViolation(resource.key(), finding);
      }
    }
  }

  private static ResourceKey key(ResourceId id) {
    return new ResourceKey(id.type(), id.id());
  }
}
