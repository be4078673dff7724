package indwell.adapter.store.jdbc;

import indwell.domain.event.EventKey;
import indwell.fhir.search.SearchValue;
import indwell.port.AuditEntry;
import indwell.port.PatientIndex;
import indwell.port.ResourceKey;
import indwell.port.StoredEvent;
import indwell.port.StoredResource;
import java.util.ArrayList;
import java.util.List;
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
  private final SortedMap<ResourceKey, List<SearchValue>> values = new TreeMap<>();
  private final SortedMap<String, PatientIndex> indexes = new TreeMap<>();
  private final List<AuditEntry> audit = new ArrayList<>();

  boolean isEmpty() {
    return events.isEmpty()
        && resources.isEmpty()
        && values.isEmpty()
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
  }

  void add(ResourceKey key, List<SearchValue> found) {
    values.put(key, found);
  }

  void add(String patientId, PatientIndex index) {
    indexes.put(patientId, index);
  }

  void add(List<AuditEntry> entries) {
    audit.addAll(entries);
  }

  private boolean isNew(ResourceKey key) {
    List<StoredResource> held = resources.getOrDefault(key, List.of());
    return !held.isEmpty() && held.get(0).version() == 1;
  }

  /** Writes everything; afterwards nothing is pending. */
  void flush(WriteSession session) {
    if (isEmpty()) {
      return;
    }
    Sql writing = session.writing();
    new EventTable(writing).append(List.copyOf(events.values()));
    new ResourceTable(writing).put(resources.values());
    new IdentifierTable(writing).replace(resources.values());
    SearchTables search = new SearchTables(writing);
    search.forget(values.keySet().stream().filter(key -> !isNew(key)).toList());
    search.add(values);
    new PatientSpans(writing).replace(indexes);
    new AuditTable(writing).add(audit);
    events.clear();
    resources.clear();
    values.clear();
    indexes.clear();
    audit.clear();
  }
}
