package indwell.adapter.store.memory;

import indwell.domain.event.EventKey;
import indwell.domain.event.Ward;
import indwell.domain.timeline.CountedTimes;
import indwell.fhir.search.SearchValue;
import indwell.port.Audited;
import indwell.port.ChangeQuery;
import indwell.port.ClinicalStore.Reading;
import indwell.port.Ordered;
import indwell.port.PatientIndex;
import indwell.port.ResourceKey;
import indwell.port.ResourceQuery;
import indwell.port.ResourceText;
import indwell.port.SearchOrder;
import indwell.port.Standing;
import indwell.port.StoredEvent;
import indwell.port.StoredResource;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.NavigableSet;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/** Answers by looking at everything. */
class MemoryReading implements Reading {
  private final State state;

  MemoryReading(State state) {
    this.state = state;
  }

  @Override
  public List<StoredEvent> versionsOf(EventKey key) {
    return List.copyOf(state.events.getOrDefault(key, new TreeMap<>()).values());
  }

  @Override
  public Map<EventKey, List<StoredEvent>> versionsOf(Collection<EventKey> keys) {
    Map<EventKey, List<StoredEvent>> found = new HashMap<>();
    for (EventKey key : keys) {
      List<StoredEvent> versions = versionsOf(key);
      if (!versions.isEmpty()) {
        found.put(key, versions);
      }
    }
    return found;
  }

  @Override
  public List<StoredEvent> currentEvents(String patientId) {
    return state.eventsNaming.getOrDefault(patientId, Set.of()).stream()
        .map(key -> state.events.getOrDefault(key, new TreeMap<>()))
        .map(versions -> versions.get(versions.lastKey()))
        .filter(event -> !event.withdrawn() && event.patientId().equals(patientId))
        .toList();
  }

  @Override
  public Map<String, List<StoredEvent>> currentEvents(Collection<String> patientIds) {
    Map<String, List<StoredEvent>> found = new HashMap<>();
    for (String patientId : patientIds) {
      List<StoredEvent> events = currentEvents(patientId);
      if (!events.isEmpty()) {
        found.put(patientId, events);
      }
    }
    return found;
  }

  @Override
  public NavigableSet<EventKey> correctedEvents(String patientId) {
    return state.eventsNaming.getOrDefault(patientId, Set.of()).stream()
        .filter(key -> versionsOf(key).get(versionsOf(key).size() - 1).version() > 1)
        .collect(Collectors.toCollection(TreeSet::new));
  }

  @Override
  public Map<String, Instant> lastCorrections(Collection<String> patientIds) {
    Map<String, Instant> last = new HashMap<>();
    for (String patientId : patientIds) {
      state.eventsNaming.getOrDefault(patientId, Set.of()).stream()
          .map(key -> state.events.getOrDefault(key, new TreeMap<>()))
          .flatMap(versions -> corrections(versions.values(), patientId))
          .max(Comparator.naturalOrder())
          .ifPresent(at -> last.put(patientId, at));
    }
    return last;
  }

  private static Stream<Instant> corrections(Collection<StoredEvent> versions, String patientId) {
    int first =
        versions.stream()
            .filter(version -> version.patientId().equals(patientId))
            .mapToInt(StoredEvent::version)
            .min()
            .orElse(Integer.MAX_VALUE);
    int newest = versions.stream().mapToInt(StoredEvent::version).max().orElse(0);
    return versions.stream()
        .filter(
            version ->
                version.version() > first
                    || (version.withdrawn()
                        && version.version() == newest
                        && version.patientId().equals(patientId)))
        .map(StoredEvent::receivedAt);
  }

  @Override
  public Map<ResourceKey, StoredResource> resources(Collection<ResourceKey> keys) {
    return keys.stream()
        .distinct()
        .flatMap(key -> history(key).stream().limit(1))
        .collect(Collectors.toMap(StoredResource::key, r -> r));
  }

  @Override
  public Optional<StoredResource> version(ResourceKey key, int version) {
    return Optional.ofNullable(versions(key).get(version));
  }

  @Override
  public List<StoredResource> history(ResourceKey key) {
    List<StoredResource> versions = new ArrayList<>(versions(key).values());
    Collections.reverse(versions);
    return versions;
  }

  @Override
  public List<StoredResource> changes(ChangeQuery query) {
    return MemoryChanges.page(state, query);
  }

  @Override
  public long countChanges(ChangeQuery query) {
    return MemoryChanges.count(state, query);
  }

  @Override
  public List<StoredResource> search(ResourceQuery query) {
    return Ordered.page(matching(query).flatMap(r -> placed(r, query.order()).stream()), query)
        .stream()
        .map(Ordered::found)
        .toList();
  }

  private Optional<Ordered<StoredResource>> placed(StoredResource resource, SearchOrder order) {
    return versions(resource.key()).values().stream()
        .mapToLong(version -> version.lastUpdated().toEpochMilli())
        .filter(at -> !order.parameter().equals("_lastUpdated") || at <= order.asOf())
        .boxed()
        .max(Comparator.naturalOrder())
        .map(
            written ->
                new Ordered<>(
                    Ordered.key(order, written, values(resource.key())),
                    resource.key().id(),
                    resource));
  }

  private List<SearchValue> values(ResourceKey key) {
    return state.searchValues.getOrDefault(key, List.of());
  }

  @Override
  public long count(ResourceQuery query) {
    return matching(query).count();
  }

  @Override
  public List<Audited> audited(ResourceQuery query) {
    long latest =
        query.order().parameter().equals("_lastUpdated") ? query.order().asOf() : Long.MAX_VALUE;
    return Ordered.page(
            matchingRows(query)
                .filter(row -> row.entry().at().toEpochMilli() <= latest)
                .map(row -> placed(row, query.order())),
            query)
        .stream()
        .map(Ordered::found)
        .toList();
  }

  @Override
  public long countAudited(ResourceQuery query) {
    return matchingRows(query).count();
  }

  private static Ordered<Audited> placed(Audited row, SearchOrder order) {
    long at = row.entry().at().toEpochMilli();
    return new Ordered<>(Ordered.key(order, at, row.entry().values()), row.id(), row);
  }

  private Stream<Audited> matchingRows(ResourceQuery query) {
    return IntStream.range(0, state.audit.size())
        .mapToObj(place -> new Audited(place + 1L, state.audit.get(place)))
        .filter(row -> isMet(query, row));
  }

  private static boolean isMet(ResourceQuery query, Audited row) {
    return query.isMetBy(
        new ResourceKey("AuditEvent", row.id()),
        row.entry().patient().orElse(""),
        List.of(),
        row.entry().at().toEpochMilli(),
        row.entry().values());
  }

  @Override
  public List<ResourceText> standing(Standing question, Set<ResourceKey> among) {
    return standing(question).filter(one -> among.contains(one.key())).toList();
  }

  /** Of all resources. */
  Stream<ResourceText> standing(Standing question) {
    return question.types().stream()
        .flatMap(this::ofType)
        .flatMap(versions -> standing(versions, question.at()).stream())
        .filter(r -> r.lastUpdated().isAfter(question.since()))
        .filter(r -> r.lastUpdated().isBefore(question.until()))
        .filter(
            r -> question.patientIds().isEmpty() || question.patientIds().contains(r.patientId()))
        .map(ResourceText::of);
  }

  private static Optional<StoredResource> standing(
      SortedMap<Integer, StoredResource> versions, Instant at) {
    return versions.values().stream()
        .filter(r -> !r.lastUpdated().isAfter(at))
        .reduce((lower, higher) -> higher);
  }

  @Override
  public List<StoredResource> locations() {
    return ofType("Location")
        .map(versions -> versions.get(versions.lastKey()))
        .sorted(Comparator.comparing(r -> r.key().id()))
        .toList();
  }

  @Override
  public int searchVersion() {
    return state.searchVersion;
  }

  @Override
  public SortedSet<Ward> inpatientWards() {
    return spans()
        .filter(PatientIndex.WardSpan::inpatient)
        .map(PatientIndex.WardSpan::ward)
        .collect(Collectors.toCollection(TreeSet::new));
  }

  @Override
  public boolean knowsWard(Ward ward) {
    return spans().anyMatch(span -> span.ward().equals(ward));
  }

  @Override
  public Set<String> patientsInWards(Set<Ward> wards, Instant start, Instant endExclusive) {
    return patientsWith(index -> meets(index, wards, start, endExclusive, span -> true));
  }

  @Override
  public Set<String> doubtfulPatientsInWards(Set<Ward> wards, Instant start, Instant endExclusive) {
    return patientsWith(
        index -> meets(index, wards, start, endExclusive, PatientIndex.WardSpan::doubtful));
  }

  private static boolean meets(
      PatientIndex index,
      Set<Ward> wards,
      Instant start,
      Instant endExclusive,
      Predicate<PatientIndex.WardSpan> which) {
    return index.wards().stream()
        .filter(which)
        .filter(span -> wards.isEmpty() || wards.contains(span.ward()))
        .anyMatch(
            span -> span.start().isBefore(endExclusive) && !span.endExclusive().isBefore(start));
  }

  @Override
  public void countedTimes(
      Set<Ward> wards, Instant start, Instant endExclusive, CountedTimes times) {
    state.indexes.values().stream()
        .flatMap(index -> index.counted().stream())
        .filter(time -> wards.contains(time.ward()))
        .filter(time -> time.span().touches(start, endExclusive))
        .forEach(times::take);
  }

  @Override
  public int whereaboutsVersion() {
    return state.whereaboutsVersion;
  }

  @Override
  public Set<String> patientsWithCatheter(Instant at) {
    return patientsWith(
        index ->
            index.catheters().stream()
                .anyMatch(span -> !span.start().isAfter(at) && span.endExclusive().isAfter(at)));
  }

  @Override
  public Set<String> patientsWithCatheter(Instant at, Ward ever) {
    return patientsWithCatheter(at).stream()
        .filter(id -> spansOf(id).anyMatch(span -> span.ward().equals(ever)))
        .collect(Collectors.toUnmodifiableSet());
  }

  private Stream<PatientIndex.WardSpan> spansOf(String patientId) {
    return Stream.ofNullable(state.indexes.get(patientId)).flatMap(one -> one.wards().stream());
  }

  private SortedMap<Integer, StoredResource> versions(ResourceKey key) {
    return state.resources.getOrDefault(key, new TreeMap<>());
  }

  private Stream<SortedMap<Integer, StoredResource>> ofType(String type) {
    return state.resources.tailMap(new ResourceKey(type, ""), true).entrySet().stream()
        .takeWhile(entry -> entry.getKey().type().equals(type))
        .map(Map.Entry::getValue);
  }

  private Stream<StoredResource> matching(ResourceQuery query) {
    return ofType(query.type())
        .map(versions -> versions.get(versions.lastKey()))
        .filter(r -> query.isMetBy(r, values(r.key())));
  }

  private Stream<PatientIndex.WardSpan> spans() {
    return state.indexes.values().stream().flatMap(index -> index.wards().stream());
  }

  private Set<String> patientsWith(Predicate<PatientIndex> condition) {
    return state.indexes.entrySet().stream()
        .filter(entry -> condition.test(entry.getValue()))
        .map(Map.Entry::getKey)
        .collect(Collectors.toUnmodifiableSet());
  }
}
