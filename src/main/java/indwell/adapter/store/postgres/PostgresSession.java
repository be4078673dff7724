package indwell.adapter.store.postgres;

import indwell.adapter.store.jdbc.Connections;
import indwell.adapter.store.jdbc.Sql;
import indwell.adapter.store.jdbc.WriteSession;
import indwell.domain.event.EventKey;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.SortedSet;
import java.util.stream.LongStream;

/** One transaction of the server; the locks are the server's and end with it. */
final class PostgresSession implements WriteSession {
  private static final String LOCK = "SELECT pg_advisory_xact_lock(?)";
  private static final String LOCK_ALL =
      "SELECT pg_advisory_xact_lock(number) FROM unnest(?) AS number";
  private static final String LOCK_SHARED = "SELECT pg_advisory_xact_lock_shared(?)";

  private final PostgresDialect dialect;
  private final Connection connection;
  private final Sql sql;

  private PostgresSession(PostgresDialect dialect, Connection connection) {
    this.dialect = dialect;
    this.connection = connection;
    this.sql = new Sql(dialect, Connections.fixed(connection));
  }

  /** A session beside others of its kind. */
  static PostgresSession open(PostgresDialect dialect, Connection connection) {
    return new PostgresSession(dialect, connection).begin(LOCK_SHARED);
  }

  /** A session beside no other. */
  static PostgresSession openAlone(PostgresDialect dialect, Connection connection) {
    return new PostgresSession(dialect, connection).begin(LOCK);
  }

  /** Whoever waits to be alone lets nobody else begin, so it waits for those under way alone. */
  private PostgresSession begin(String lock) {
    try {
      connection.setAutoCommit(false);
      sql.query(lock, statement -> statement.setLong(1, LockKey.OF_WRITERS), row -> true);
      return this;
    } catch (SQLException e) {
      close();
      throw Sql.failure(dialect, e);
    } catch (RuntimeException e) {
      close();
      throw e;
    }
  }

  @Override
  public void lockEvents(SortedSet<EventKey> keys) {
    lock(keys.stream().mapToLong(LockKey::ofEvent));
  }

  @Override
  public void lockPatients(SortedSet<String> patientIds) {
    lock(patientIds.stream().mapToLong(LockKey::ofPatient));
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

  /**
   * In the order of the numbers, so that nobody waits in a circle; two names may share one. The
   * server walks along the array and takes lock after lock.
   */
  private void lock(LongStream keys) {
    Object[] numbers = keys.distinct().sorted().boxed().toArray();
    if (numbers.length > 0) {
      sql.query(
          LOCK_ALL,
          statement ->
              statement.setArray(1, statement.getConnection().createArrayOf("int8", numbers)),
          row -> true);
    }
  }
}
