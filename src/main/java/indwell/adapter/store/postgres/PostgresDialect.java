package indwell.adapter.store.postgres;

import static java.util.stream.Collectors.joining;

import indwell.adapter.store.jdbc.Dialect;
import indwell.adapter.store.jdbc.Insert;
import java.sql.Array;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
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
  public String list(String name) {
    return "unnest(?) AS " + name + " (value)";
  }

  @Override
  public void bindList(PreparedStatement statement, int index, Collection<String> values)
      throws SQLException {
    statement.setArray(
        index, statement.getConnection().createArrayOf("text", values.toArray(new String[0])));
  }

  /** As lists, one for each column: one statement whatever their number, in one round trip. */
  @Override
  public <T> void insert(Connection connection, Insert<T> rows, Collection<T> items)
      throws SQLException {
    String lists = rows.values().stream().map(list -> "?").collect(joining(", "));
    String columns = rows.columns().collect(joining(", "));
    String source = "unnest(" + lists + ") AS " + Insert.ROW + " (" + columns + ")";
    try (PreparedStatement statement = connection.prepareStatement(rows.from(source))) {
      int index = 1;
      for (Insert.Value<T> value : rows.values()) {
        statement.setArray(index, list(connection, value, items));
        index++;
      }
      statement.executeUpdate();
    }
  }

  private static <T> Array list(Connection connection, Insert.Value<T> value, Collection<T> items)
      throws SQLException {
    if (value instanceof Insert.Text<T> text) {
      return connection.createArrayOf("text", items.stream().map(text.of()).toArray(String[]::new));
    }
    Insert.Whole<T> number = (Insert.Whole<T>) value;
    return connection.createArrayOf(
        "int8", items.stream().map(number.of()::applyAsLong).toArray(Long[]::new));
  }

  @Override
  public String numbers(List<String> columns) {
    return columns.stream().map("array_agg(%s)"::formatted).collect(joining(" || "));
  }

  @Override
  public long[] readNumbers(ResultSet row, int column) throws SQLException {
    Array numbers = row.getArray(column);
    return numbers == null
        ? new long[0]
        : Arrays.stream((Long[]) numbers.getArray()).mapToLong(Long::longValue).toArray();
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
