package indwell.adapter.store.sqlite;

import indwell.adapter.store.jdbc.Connections;
import indwell.adapter.store.jdbc.Dialect;
import indwell.adapter.store.jdbc.Sql;
import indwell.adapter.store.jdbc.Step;
import indwell.adapter.store.jdbc.WriteSession;
import indwell.domain.event.EventKey;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.SortedSet;

/**
 * Reads from the newest committed state until the first write, and only then takes the one
 * connection that writes: mapping and validating, which take longer, go on side by side.
 */
final class SqliteSession implements WriteSession {
  private final SqliteDatabase database;
  private final Deque<Runnable> releases = new ArrayDeque<>();
  private Optional<GroupCommit.Member> member = Optional.empty();

  /**
   * @param release run when the session closes, after its own locks are let go
   */
  SqliteSession(SqliteDatabase database, Runnable release) {
    this.database = database;
    releases.push(release);
  }

  @Override
  public Dialect dialect() {
    return database.dialect();
  }

  @Override
  public List<Step> lockEvents(SortedSet<EventKey> keys) {
    requireNothingWritten();
    releases.push(database.events.lock(keys));
    return List.of();
  }

  @Override
  public List<Step> lockPatients(SortedSet<String> patientIds) {
    requireNothingWritten();
    releases.push(database.patients.lock(patientIds));
    return List.of();
  }

  @Override
  public void run(List<Step> steps) {
    reading().run(steps);
  }

  @Override
  public Sql reading() {
    return new Sql(
        database.dialect(),
        member
            .map(m -> Connections.fixed(m.connection()))
            .orElse(() -> new Connections.Lease(database.reader(), true)));
  }

  @Override
  public Sql writing() {
    if (member.isEmpty()) {
      member = Optional.of(database.writers().join());
    }
    return reading();
  }

  @Override
  public void commit() {
    Optional<GroupCommit.Member> written = member;
    member = Optional.empty();
    written.ifPresent(GroupCommit.Member::commit);
  }

  /** The locks are held until the writes are on the disk: until then nobody else can see them. */
  @Override
  public void close() {
    try {
      member.ifPresent(GroupCommit.Member::rollback);
    } finally {
      releases.forEach(Runnable::run);
    }
  }

  /** Whoever holds a lock may be waiting for this session to let the next one write. */
  private void requireNothingWritten() {
    if (member.isPresent()) {
      throw new IllegalStateException("Locks are taken before the first write.");
    }
  }
}
