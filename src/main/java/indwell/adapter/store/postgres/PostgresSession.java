package indwell.adapter.store.postgres;

import indwell.adapter.store.jdbc.Connections;
import indwell.adapter.store.jdbc.Dialect;
import indwell.adapter.store.jdbc.Sql;
import indwell.adapter.store.jdbc.Step;
import indwell.adapter.store.jdbc.WriteSession;
import indwell.domain.event.EventKey;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.List;
import java.util.SortedSet;
import java.util.stream.LongStream;
import java.util.stream.Stream;

/** One transaction of the server; the locks are the server's and end with it. */
final class PostgresSession implements WriteSession {
  private static final String LOCK = "SELECT pg_advisory_xact_lock(?)";
  private static final String LOCK_ALL =
      "SELECT pg_advisory_xact_lock(number) FROM unnest(?) AS number";
  private static final String LOCK_SHARED = "SELECT pg_advisory_xact_lock_shared(?)";

  private final PostgresDialect dialect;
  private final Connection connection;
  private final Sql sql;

  /** What stands before all else; it goes with the first question. */
  private List<Step> opening;

  private PostgresSession(PostgresDialect dialect, Connection connection, String lock) {
    this.dialect = dialect;
    this.connection = connection;
    this.sql = new Sql(dialect, Connections.fixed(connection));
    this.opening =
        List.of(
            locking(
                lock,
                (statement, first) -> {
                  statement.setLong(first, LockKey.OF_WRITERS);
                  return first + 1;
                }));
  }

  /** A session beside others of its kind. */
  static PostgresSession open(PostgresDialect dialect, Connection connection) {
    return new PostgresSession(dialect, connection, LOCK_SHARED).begin();
  }

  /**
   * A session beside no other. Whoever waits to be alone lets nobody else ask a first question, so
   * it waits for those under way alone.
   */
  static PostgresSession openAlone(PostgresDialect dialect, Connection connection) {
    return new PostgresSession(dialect, connection, LOCK).begin();
  }

  private PostgresSession begin() {
    try {
      connection.setAutoCommit(false);
      return this;
    } catch (SQLException e) {
      close();
      throw Sql.failure(dialect, e);
    }
  }

  @Override
  public Dialect dialect() {
    return dialect;
  }

  @Override
  public List<Step> lockEvents(SortedSet<EventKey> keys) {
    return lock(keys.stream().mapToLong(LockKey::ofEvent));
  }

  @Override
  public List<Step> lockPatients(SortedSet<String> patientIds) {
    return lock(patientIds.stream().mapToLong(LockKey::ofPatient));
  }

  @Override
  public Sql reading() {
    if (!opening.isEmpty()) {
      run(List.of());
    }
    return sql;
  }

  @Override
  public Sql writing() {
    return reading();
  }

  @Override
  public void run(List<Step> steps) {
    List<Step> all = Stream.concat(opening.stream(), steps.stream()).toList();
    opening = List.of();
    sql.run(all);
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
  private static List<Step> lock(LongStream keys) {
    Object[] numbers = keys.distinct().sorted().boxed().toArray();
    return List.of(
        locking(
            LOCK_ALL,
            (statement, first) -> {
              statement.setArray(first, statement.getConnection().createArrayOf("int8", numbers));
              return first + 1;
            }));
  }

  private static Step locking(String text, Step.Bind bind) {
    return Step.question(text, bind, row -> true, granted -> {});
  }
}
