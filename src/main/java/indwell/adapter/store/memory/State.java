package indwell.adapter.store.memory;

import indwell.domain.event.EventKey;
import indwell.fhir.search.SearchValue;
import indwell.port.AuditEntry;
import indwell.port.PatientIndex;
import indwell.port.ResourceKey;
import indwell.port.StoredEvent;
import indwell.port.StoredResource;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.NavigableMap;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;

/** All that is kept. */
final class State {
  /** Versions of events by number. */
  final Map<EventKey, SortedMap<Integer, StoredEvent>> events = new HashMap<>();

  /** Events of which some version names the patient. */
  final Map<String, Set<EventKey>> eventsNaming = new HashMap<>();

  /** Versions of resources by number, in the order of the keys. */
  final NavigableMap<ResourceKey, SortedMap<Integer, StoredResource>> resources = new TreeMap<>();

  /** The versions in the order in which they were written; the first has number 1. */
  final List<StoredResource> changes = new ArrayList<>();

  /** What the newest versions can be found by. */
  final Map<ResourceKey, List<SearchValue>> searchValues = new HashMap<>();

  int searchVersion;

  int whereaboutsVersion;

  final Map<String, PatientIndex> indexes = new HashMap<>();

  /** Rows of the audit trail; the first has number 1. */
  final List<AuditEntry> audit = new ArrayList<>();

  /** Nothing is written any more with a time of last update at or before this. */
  Instant settledUntil = Instant.MIN;

  Set<EventKey> eventsNaming(String patientId) {
    return eventsNaming.computeIfAbsent(patientId, id -> new HashSet<>());
  }
}
