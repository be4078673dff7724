package indwell.adapter.store.sqlite;

import indwell.adapter.store.jdbc.Connections;
import indwell.adapter.store.jdbc.Sql;
import indwell.adapter.store.jdbc.WriteSession;
import indwell.domain.event.EventKey;
import java.sql.Connection;
import java.sql.SQLException;
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
  private Optional<Connection> writer = Optional.empty();

  SqliteSession(SqliteDatabase database) {
    this.database = database;
  }

  @Override
  public void lockEvent(EventKey key) {
    releases.push(database.events.lock(List.of(key)));
  }

  @Override
  public void lockPatients(SortedSet<String> patientIds) {
    releases.push(database.patients.lock(patientIds));
  }

  @Override
  public Sql reading() {
    return new Sql(
        database.dialect(),
        writer
            .map(Connections::fixed)
            .orElse(() -> new Connections.Lease(database.reader(), true)));
  }

  @Override
  public Sql writing() {
    Connection connection = writer.orElseGet(this::takeWriter);
    return new Sql(database.dialect(), Connections.fixed(connection));
  }

  @Override
  public void commit() {
    if (writer.isPresent()) {
      try {
        writer.get().commit();
      } catch (SQLException e) {
        throw Sql.failure(database.dialect(), e);
      }
    }
  }

  @Override
  public void close() {
    try {
      releaseWriter();
    } finally {
      releases.forEach(Runnable::run);
    }
  }

  private Connection takeWriter() {
    StripedLocks.take(database.turn, SqliteDatabase.PATIENCE);
    releases.push(database.turn::unlock);
    try {
      Connection connection = database.writer();
      writer = Optional.of(connection);
      connection.setAutoCommit(false);
      return connection;
    } catch (SQLException e) {
      throw Sql.failure(database.dialect(), e);
    }
  }

  /** Closing a connection that has not committed rolls back, which is nothing after a commit. */
  private void releaseWriter() {
    if (writer.isEmpty()) {
      return;
    }
    try (Connection connection = writer.get()) {
      connection.rollback();
    } catch (SQLException e) {
      throw Sql.failure(database.dialect(), e);
    }
  }
}
