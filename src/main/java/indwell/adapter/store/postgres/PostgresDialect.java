package indwell.adapter.store.postgres;

import indwell.adapter.store.jdbc.Dialect;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.Collection;
import java.util.Map;
import java.util.Set;

/**
 * PostgreSQL's spelling. Failures are told apart by SQLSTATE (PostgreSQL 17, appendix A,
 * https://www.postgresql.org/docs/17/errcodes-appendix.html).
 */
final class PostgresDialect implements Dialect {
  /** Serialization failure, deadlock. */
  private static final Set<String> CONTENTION = Set.of("40001", "40P01");

  /** Unique violation. */
  private static final String TAKEN = "23505";

  /** Lock not granted in time, statement cancelled, I/O error, read-only server. */
  private static final Set<String> UNAVAILABLE = Set.of("55P03", "57014", "58030", "25006");

  /** Connection failure, wrong credentials, no such database, out of resources, shutting down. */
  private static final Set<String> UNAVAILABLE_CLASSES = Set.of("08", "28", "3D", "53", "57");

  @Override
  public String in(String expression) {
    return expression + " = ANY (?)";
  }

  @Override
  public void bindList(PreparedStatement statement, int index, Collection<String> values)
      throws SQLException {
    statement.setArray(
        index, statement.getConnection().createArrayOf("text", values.toArray(new String[0])));
  }

  @Override
  public Failure classify(SQLException failure) {
    String state = failure.getSQLState();
    if (state == null) {
      // The pool's own failures: no connection in time, or closed.
      return Failure.UNAVAILABLE;
    }
    if (CONTENTION.contains(state)) {
      return Failure.CONTENTION;
    }
    if (state.equals(TAKEN)) {
      return Failure.TAKEN;
    }
    return UNAVAILABLE.contains(state)
            || UNAVAILABLE_CLASSES.contains(state.substring(0, Math.min(2, state.length())))
        ? Failure.UNAVAILABLE
        : Failure.DEFECT;
  }

  @Override
  public String ownScripts() {
    return "postgres";
  }

  @Override
  public Map<String, String> placeholders() {
    return Map.of(
        "text", "TEXT COLLATE \"C\"",
        "sequence", "BIGINT GENERATED ALWAYS AS IDENTITY PRIMARY KEY",
        "clustered", "");
  }
}
