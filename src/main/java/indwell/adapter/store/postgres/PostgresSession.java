package indwell.adapter.store.postgres;

import indwell.adapter.store.jdbc.Connections;
import indwell.adapter.store.jdbc.Sql;
import indwell.adapter.store.jdbc.WriteSession;
import indwell.domain.event.EventKey;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.SortedSet;

/** One transaction of the server; the locks are the server's and end with it. */
final class PostgresSession implements WriteSession {
  private static final String LOCK = "SELECT pg_advisory_xact_lock(?)";

  private final PostgresDialect dialect;
  private final Connection connection;
  private final Sql sql;

  PostgresSession(PostgresDialect dialect, Connection connection) throws SQLException {
    this.dialect = dialect;
    this.connection = connection;
    this.sql = new Sql(dialect, Connections.fixed(connection));
    connection.setAutoCommit(false);
  }

  @Override
  public void lockEvent(EventKey key) {
    lock(LockKey.ofEvent(key));
  }

  /** In the order of the locks' numbers: two ids may share one. */
  @Override
  public void lockPatients(SortedSet<String> patientIds) {
    patientIds.stream().mapToLong(LockKey::ofPatient).distinct().sorted().forEach(this::lock);
  }

  @Override
  public Sql reading() {
    return sql;
  }

  @Override
  public Sql writing() {
    return sql;
  }

  @Override
  public void commit() {
    try {
      connection.commit();
    } catch (SQLException e) {
      throw Sql.failure(dialect, e);
    }
  }

  @Override
  public void close() {
    try (connection) {
      connection.rollback();
    } catch (SQLException e) {
      throw Sql.failure(dialect, e);
    }
  }

  private void lock(long key) {
    sql.query(LOCK, statement -> statement.setLong(1, key), row -> key);
  }
}
