package indwell.adapter.store.jdbc;

import indwell.domain.event.EventKey;
import indwell.fhir.search.SearchValue;
import indwell.port.PatientIndex;
import indwell.port.ResourceKey;
import indwell.port.StoredEvent;
import indwell.port.StoredResource;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * What a transaction has written and the database does not know yet. It goes there in few
 * statements, because each is a round trip, and late, because SQLite lets one transaction write at
 * a time. It holds one version of a thing at most: the second has to see the first. The keys are
 * sorted so that two transactions never wait for each other in a circle.
 */
final class PendingWrites {
  private final SortedMap<EventKey, StoredEvent> events = new TreeMap<>();
  private final SortedMap<ResourceKey, StoredResource> resources = new TreeMap<>();
  private final SortedMap<ResourceKey, List<SearchValue>> values = new TreeMap<>();
  private final SortedMap<String, PatientIndex> indexes = new TreeMap<>();

  boolean isEmpty() {
    return events.isEmpty() && resources.isEmpty() && values.isEmpty() && indexes.isEmpty();
  }

  boolean holds(ResourceKey key) {
    return resources.containsKey(key);
  }

  boolean holds(EventKey key) {
    return events.containsKey(key);
  }

  void add(StoredEvent event) {
    events.put(event.key(), event);
  }

  void add(StoredResource resource) {
    resources.put(resource.key(), resource);
  }

  void add(ResourceKey key, List<SearchValue> found) {
    values.put(key, found);
  }

  void add(String patientId, PatientIndex index) {
    indexes.put(patientId, index);
  }

  private boolean isNew(ResourceKey key) {
    return Optional.ofNullable(resources.get(key)).filter(r -> r.version() == 1).isPresent();
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
    for (Map.Entry<String, PatientIndex> entry : indexes.entrySet()) {
      new WhereaboutsTables(writing).replace(entry.getKey(), entry.getValue());
    }
    events.clear();
    resources.clear();
    values.clear();
    indexes.clear();
  }
}
