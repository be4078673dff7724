package indwell.adapter.store.jdbc;

import indwell.adapter.store.jdbc.FoundBy.Found;
import indwell.adapter.store.jdbc.PatientSpans.Indexed;
import indwell.domain.event.EventKey;
import indwell.port.AuditEntry;
import indwell.port.PatientIndex;
import indwell.port.ResourceKey;
import indwell.port.StoredEvent;
import indwell.port.StoredResource;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * What a transaction has written and the database does not know yet. It goes there in few
 * statements, because each is a round trip, and late, because SQLite lets one transaction write at
 * a time. Of an event it holds one version at most, of a resource versions that follow each other.
 * The keys are sorted so that two transactions never wait for each other in a circle.
 */
final class PendingWrites {
  private final SortedMap<EventKey, StoredEvent> events = new TreeMap<>();
  private final SortedMap<ResourceKey, List<StoredResource>> resources = new TreeMap<>();
  private final SortedMap<ResourceKey, Found> found = new TreeMap<>();
  private final SortedMap<String, Indexed> indexes = new TreeMap<>();
  private final List<AuditEntry> audit = new ArrayList<>();

  boolean isEmpty() {
    return events.isEmpty()
        && resources.isEmpty()
        && found.isEmpty()
        && indexes.isEmpty()
        && audit.isEmpty();
  }

  /** Whether the version can be added to those that are held of its resource. */
  boolean isNext(StoredResource resource) {
    List<StoredResource> held = resources.getOrDefault(resource.key(), List.of());
    return held.isEmpty() || held.get(held.size() - 1).version() + 1 == resource.version();
  }

  boolean holds(EventKey key) {
    return events.containsKey(key);
  }

  void add(StoredEvent event) {
    events.put(event.key(), event);
  }

  void add(StoredResource resource) {
    resources.computeIfAbsent(resource.key(), key -> new ArrayList<>(1)).add(resource);
    add(new Found(resource, List.of()));
  }

  void add(Found one) {
    found.put(one.resource().key(), one);
  }

  void add(String patientId, Optional<PatientIndex> before, PatientIndex now) {
    indexes.merge(
        patientId,
        new Indexed(before, now),
        (first, next) -> new Indexed(first.before(), next.now()));
  }

  void add(List<AuditEntry> entries) {
    audit.addAll(entries);
  }

  private boolean isNew(ResourceKey key) {
    List<StoredResource> held = resources.getOrDefault(key, List.of());
    return !held.isEmpty() && held.get(0).version() == 1;
  }

  /** Resources that were there before. */
  private List<String> changed() {
    return found.keySet().stream().filter(key -> !isNew(key)).map(ResourceKey::reference).toList();
  }

  /**
   * Writes everything, all of it in one round trip where the database can; afterwards nothing is
   * pending.
   */
  void flush(WriteSession session) {
    if (isEmpty()) {
      return;
    }
    Sql writing = session.writing();
    Dialect dialect = session.dialect();
    FoundBy foundBy = dialect.foundBy();
    PatientSpans spans = new PatientSpans(dialect, indexes);
    List<Step> steps = new ArrayList<>();
    List<Insert.Rows<?>> rows = new ArrayList<>();
    rows.add(new EventTable(writing).appended(List.copyOf(events.values())));
    // Before all else of a resource, since it finds out whether another transaction was first.
    steps.add(ResourceTable.outdated(dialect, resources.values()));
    rows.add(ResourceTable.added(resources.values()));
    steps.addAll(foundBy.forget(dialect, changed()));
    rows.addAll(foundBy.rows(found.values()));
    steps.addAll(spans.forgotten());
    rows.addAll(spans.added());
    rows.add(AuditTable.added(audit));
    writing.write(steps, rows);
    events.clear();
    resources.clear();
    found.clear();
    indexes.clear();
    audit.clear();
  }
}
