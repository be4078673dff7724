package indwell.adapter.store.jdbc;

import indwell.adapter.store.jdbc.FoundBy.Found;
import indwell.domain.event.EventKey;
import indwell.fhir.search.SearchValue;
import indwell.port.AuditEntry;
import indwell.port.ClinicalStore.HeldEvents;
import indwell.port.ClinicalStore.Writing;
import indwell.port.PatientIndex;
import indwell.port.ResourceKey;
import indwell.port.StoredEvent;
import indwell.port.StoredResource;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedSet;

/** Collects what is written and sends it off before the next read, or when the work is done. */
final class JdbcWriting extends JdbcReading implements Writing {
  private final WriteSession session;
  private final PendingWrites pending;

  /** Read once: it stays where it is while this transaction lasts. */
  private Optional<Instant> settled = Optional.empty();

  private int audited;

  JdbcWriting(WriteSession session) {
    this(session, new PendingWrites());
  }

  private JdbcWriting(WriteSession session, PendingWrites pending) {
    super(
        () -> {
          pending.flush(session);
          return session.reading();
        });
    this.session = session;
    this.pending = pending;
  }

  @Override
  public void lockEvents(SortedSet<EventKey> keys) {
    session.run(session.lockEvents(keys));
  }

  @Override
  public void lockPatients(SortedSet<String> patientIds) {
    session.run(session.lockPatients(patientIds));
  }

  /** Asks in the same go up to when the past is settled, since whoever holds events writes. */
  @Override
  public HeldEvents holdEvents(SortedSet<EventKey> keys, Set<ResourceKey> resources) {
    flush();
    List<StoredEvent> versions = new ArrayList<>();
    List<StoredResource> newest = new ArrayList<>();
    List<Step> steps = new ArrayList<>(session.lockEvents(keys));
    steps.add(SettledPast.question(until -> settled = Optional.of(until)));
    steps.addAll(EventTable.versions(session.dialect(), keys, versions::add));
    steps.add(ResourceTable.newest(session.dialect(), resources, newest::add));
    session.run(steps);
    return new HeldEvents(byKey(versions), byResource(newest));
  }

  @Override
  public Map<String, List<StoredEvent>> holdPatients(
      SortedSet<String> held, Collection<String> patientIds) {
    flush();
    List<StoredEvent> current = new ArrayList<>();
    List<Step> steps = new ArrayList<>(session.lockPatients(held));
    steps.add(EventTable.current(session.dialect(), patientIds, current::add));
    session.run(steps);
    return byPatient(current);
  }

  @Override
  public Instant time(Instant now) {
    Instant wanted = now.truncatedTo(ChronoUnit.MILLIS);
    Instant until = settledUntil();
    return wanted.isAfter(until) ? wanted : until.plusMillis(1);
  }

  @Override
  public void append(StoredEvent event) {
    if (pending.holds(event.key())) {
      flush();
    }
    pending.add(event);
  }

  @Override
  public void put(StoredResource resource) {
    if (!resource.lastUpdated().isAfter(settledUntil())) {
      throw new IllegalStateException(
          "A %s is last updated in the settled past.".formatted(resource.key().type()));
    }
    if (!pending.isNext(resource)) {
      flush();
    }
    pending.add(resource);
  }

  @Override
  public void findBy(StoredResource newest, List<SearchValue> values) {
    pending.add(new Found(newest, values));
  }

  @Override
  public void searchVersion(int version) {
    flush();
    new SearchIndexTable(session.writing()).setVersion(version);
  }

  @Override
  public void whereaboutsVersion(int version) {
    flush();
    new WhereaboutsTables(session.writing()).setVersion(version);
  }

  @Override
  public void index(String patientId, Optional<PatientIndex> before, PatientIndex now) {
    pending.add(patientId, before, now);
  }

  @Override
  public void audit(List<AuditEntry> entries) {
    pending.add(entries);
    audited += entries.size();
  }

  /** Rows of the audit trail that were added. */
  int audited() {
    return audited;
  }

  private Instant settledUntil() {
    if (settled.isEmpty()) {
      settled = Optional.of(new SettledPast(session.reading()).until());
    }
    return settled.orElseThrow();
  }

  void flush() {
    pending.flush(session);
  }
}
