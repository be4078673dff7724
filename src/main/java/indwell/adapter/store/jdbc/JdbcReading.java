package indwell.adapter.store.jdbc;

import indwell.domain.event.EventKey;
import indwell.domain.event.Ward;
import indwell.domain.timeline.CountedTimes;
import indwell.port.Audited;
import indwell.port.ChangeQuery;
import indwell.port.ClinicalStore.Reading;
import indwell.port.ResourceKey;
import indwell.port.ResourceQuery;
import indwell.port.ResourceText;
import indwell.port.Standing;
import indwell.port.StoredEvent;
import indwell.port.StoredResource;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.NavigableSet;
import java.util.Optional;
import java.util.Set;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.function.Supplier;
import java.util.stream.Collectors;

/** Answers from the tables. */
class JdbcReading implements Reading {
  private final Supplier<Sql> sql;

  /**
   * @param sql asked before every statement, so that it can first write what is pending
   */
  JdbcReading(Supplier<Sql> sql) {
    this.sql = sql;
  }

  @Override
  public Map<EventKey, List<StoredEvent>> versionsOf(Collection<EventKey> keys) {
    Sql questions = sql.get();
    List<StoredEvent> versions = new ArrayList<>();
    questions.run(EventTable.versions(questions.dialect(), keys, versions::add));
    return byKey(versions);
  }

  @Override
  public List<StoredEvent> currentEvents(String patientId) {
    return current(List.of(patientId));
  }

  @Override
  public Map<String, List<StoredEvent>> currentEvents(Collection<String> patientIds) {
    return byPatient(current(patientIds));
  }

  private List<StoredEvent> current(Collection<String> patientIds) {
    Sql questions = sql.get();
    List<StoredEvent> current = new ArrayList<>();
    questions.run(List.of(EventTable.current(questions.dialect(), patientIds, current::add)));
    return current;
  }

  /** Of each event its versions, ascending. */
  static Map<EventKey, List<StoredEvent>> byKey(List<StoredEvent> versions) {
    return versions.stream()
        .sorted(Comparator.comparing(StoredEvent::version))
        .collect(Collectors.groupingBy(StoredEvent::key));
  }

  static Map<String, List<StoredEvent>> byPatient(List<StoredEvent> events) {
    return events.stream().collect(Collectors.groupingBy(StoredEvent::patientId));
  }

  static Map<ResourceKey, StoredResource> byResource(List<StoredResource> newest) {
    return newest.stream().collect(Collectors.toMap(StoredResource::key, r -> r));
  }

  @Override
  public NavigableSet<EventKey> correctedEvents(String patientId) {
    return new TreeSet<>(new EventTable(sql.get()).corrected(patientId));
  }

  @Override
  public Map<String, Instant> lastCorrections(Collection<String> patientIds) {
    return new EventTable(sql.get()).lastCorrections(patientIds);
  }

  @Override
  public Map<ResourceKey, StoredResource> resources(Collection<ResourceKey> keys) {
    return byResource(new ResourceTable(sql.get()).newest(keys));
  }

  @Override
  public Optional<StoredResource> version(ResourceKey key, int version) {
    return new ResourceTable(sql.get()).version(key, version).stream().findFirst();
  }

  @Override
  public List<StoredResource> history(ResourceKey key) {
    return new ResourceTable(sql.get()).history(key);
  }

  @Override
  public List<StoredResource> changes(ChangeQuery query) {
    return new ChangeSearch(sql.get(), query).page();
  }

  @Override
  public long countChanges(ChangeQuery query) {
    return new ChangeSearch(sql.get(), query).count();
  }

  @Override
  public List<StoredResource> search(ResourceQuery query) {
    return new ResourceSearch(sql.get(), query).page();
  }

  @Override
  public long count(ResourceQuery query) {
    return new ResourceSearch(sql.get(), query).count();
  }

  @Override
  public List<Audited> audited(ResourceQuery query) {
    return new AuditSearch(sql.get(), query).page();
  }

  @Override
  public long countAudited(ResourceQuery query) {
    return new AuditSearch(sql.get(), query).count();
  }

  @Override
  public List<ResourceText> standing(Standing question, Set<ResourceKey> among) {
    return new StandingSearch(sql.get(), question).among(among);
  }

  @Override
  public List<StoredResource> locations() {
    return new ResourceTable(sql.get())
        .locations().stream().sorted(Comparator.comparing(r -> r.key().id())).toList();
  }

  @Override
  public int searchVersion() {
    return new SearchIndexTable(sql.get()).version();
  }

  @Override
  public SortedSet<Ward> inpatientWards() {
    return new TreeSet<>(new WhereaboutsTables(sql.get()).inpatientWards());
  }

  @Override
  public boolean knowsWard(Ward ward) {
    return new WhereaboutsTables(sql.get()).knows(ward);
  }

  @Override
  public Set<String> patientsInWards(Set<Ward> wards, Instant start, Instant endExclusive) {
    return new WhereaboutsTables(sql.get()).patientsInWards(wards, start, endExclusive);
  }

  @Override
  public Set<String> doubtfulPatientsInWards(Set<Ward> wards, Instant start, Instant endExclusive) {
    return new WhereaboutsTables(sql.get()).doubtfulPatientsInWards(wards, start, endExclusive);
  }

  @Override
  public void countedTimes(
      Set<Ward> wards, Instant start, Instant endExclusive, CountedTimes times) {
    new WhereaboutsTables(sql.get()).countedTimes(wards, start, endExclusive, times);
  }

  @Override
  public int whereaboutsVersion() {
    return new WhereaboutsTables(sql.get()).version();
  }

  @Override
  public Set<String> patientsWithCatheter(Instant at) {
    return new WhereaboutsTables(sql.get()).patientsWithCatheter(at);
  }

  @Override
  public Set<String> patientsWithCatheter(Instant at, Ward ever) {
    return new WhereaboutsTables(sql.get()).patientsWithCatheter(at, ever);
  }
}
