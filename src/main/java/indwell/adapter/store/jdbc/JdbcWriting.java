package indwell.adapter.store.jdbc;

import indwell.domain.event.EventKey;
import indwell.port.ClinicalStore.Writing;
import indwell.port.PatientIndex;
import indwell.port.StoredEvent;
import indwell.port.StoredResource;
import java.util.SortedSet;

/** Collects what is written and sends it off before the next read, or when the work is done. */
final class JdbcWriting extends JdbcReading implements Writing {
  private final WriteSession session;
  private final PendingWrites pending;

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
  public void lockEvent(EventKey key) {
    session.lockEvent(key);
  }

  @Override
  public void lockPatients(SortedSet<String> patientIds) {
    session.lockPatients(patientIds);
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
    if (pending.holds(resource.key())) {
      flush();
    }
    pending.add(resource);
  }

  @Override
  public void index(String patientId, PatientIndex index) {
    pending.add(patientId, index);
  }

  void flush() {
    pending.flush(session);
  }
}
