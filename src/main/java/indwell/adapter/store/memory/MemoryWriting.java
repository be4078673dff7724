package indwell.adapter.store.memory;

import indwell.domain.event.EventKey;
import indwell.fhir.search.SearchValue;
import indwell.port.AuditEntry;
import indwell.port.ClinicalStore.Writing;
import indwell.port.PatientIndex;
import indwell.port.ResourceKey;
import indwell.port.StoredEvent;
import indwell.port.StoredResource;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeMap;

/** Writes at once and remembers how to undo it. */
final class MemoryWriting extends MemoryReading implements Writing {
  private final State state;
  private final Deque<Runnable> undo = new ArrayDeque<>();

  MemoryWriting(State state) {
    super(state);
    this.state = state;
  }

  /** The whole store is held by this transaction. */
  @Override
  public void lockEvents(SortedSet<EventKey> keys) {}

  /** The whole store is held by this transaction. */
  @Override
  public void lockPatients(SortedSet<String> patientIds) {}

  @Override
  public Instant time(Instant now) {
    Instant wanted = now.truncatedTo(ChronoUnit.MILLIS);
    return wanted.isAfter(state.settledUntil) ? wanted : state.settledUntil.plusMillis(1);
  }

  @Override
  public void append(StoredEvent event) {
    SortedMap<Integer, StoredEvent> versions =
        state.events.computeIfAbsent(event.key(), key -> new TreeMap<>());
    if (versions.containsKey(event.version())) {
      throw new IllegalStateException(
          "Version " + event.version() + " of the event is there already.");
    }
    versions.put(event.version(), event);
    undo.push(() -> versions.remove(event.version()));
    if (state.eventsNaming(event.patientId()).add(event.key())) {
      undo.push(() -> state.eventsNaming(event.patientId()).remove(event.key()));
    }
  }

  @Override
  public void put(StoredResource resource) {
    if (!resource.lastUpdated().isAfter(state.settledUntil)) {
      throw new IllegalStateException(
          "A %s is last updated in the settled past.".formatted(resource.key().type()));
    }
    SortedMap<Integer, StoredResource> versions =
        state.resources.getOrDefault(resource.key(), new TreeMap<>());
    int newest = versions.isEmpty() ? 0 : versions.lastKey();
    if (resource.version() != newest + 1) {
      throw new IllegalStateException(
          "Version %d of a %s does not follow its newest version."
              .formatted(resource.version(), resource.key().type()));
    }
    versions.put(resource.version(), resource);
    state.resources.put(resource.key(), versions);
    state.changes.add(resource);
    undo.push(() -> takeBack(resource));
    findBy(resource, List.of());
  }

  @Override
  public void findBy(StoredResource newest, List<SearchValue> values) {
    ResourceKey key = newest.key();
    Optional<List<SearchValue>> before =
        Optional.ofNullable(state.searchValues.put(key, List.copyOf(values)));
    undo.push(
        () ->
            before.ifPresentOrElse(
                old -> state.searchValues.put(key, old), () -> state.searchValues.remove(key)));
  }

  @Override
  public void searchVersion(int version) {
    int before = state.searchVersion;
    state.searchVersion = version;
    undo.push(() -> state.searchVersion = before);
  }

  @Override
  public void whereaboutsVersion(int version) {
    int before = state.whereaboutsVersion;
    state.whereaboutsVersion = version;
    undo.push(() -> state.whereaboutsVersion = before);
  }

  @Override
  public void index(String patientId, Optional<PatientIndex> known, PatientIndex now) {
    Optional<PatientIndex> before = Optional.ofNullable(state.indexes.put(patientId, now));
    if (known.filter(one -> !one.equals(before.orElse(PatientIndex.NOWHERE))).isPresent()) {
      throw new IllegalStateException("Something else was known of the patient's whereabouts.");
    }
    undo.push(
        () ->
            before.ifPresentOrElse(
                old -> state.indexes.put(patientId, old), () -> state.indexes.remove(patientId)));
  }

  @Override
  public void audit(List<AuditEntry> entries) {
    int before = state.audit.size();
    state.audit.addAll(entries);
    undo.push(() -> state.audit.subList(before, state.audit.size()).clear());
  }

  /** Takes everything back, the last first. */
  void undo() {
    undo.forEach(Runnable::run);
    undo.clear();
  }

  private void takeBack(StoredResource resource) {
    state.changes.remove(state.changes.size() - 1);
    state.resources.computeIfPresent(
        resource.key(),
        (key, versions) -> {
          versions.remove(resource.version());
          return versions.isEmpty() ? null : versions;
        });
  }
}
