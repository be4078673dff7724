package indwell.adapter.store.postgres;

import static java.util.stream.Collectors.joining;

import indwell.adapter.store.jdbc.Dialect;
import indwell.adapter.store.jdbc.FoundBy;
import indwell.adapter.store.jdbc.Insert;
import indwell.adapter.store.jdbc.Step;
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
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.postgresql.PGStatement;

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

  /**
   * Statements that go together at most, chosen here: twice what a transaction of events of one
   * source needs.
   */
  private static final int TOGETHER = 16;

  /** The statements for rows of these tables together. */
  private final Map<List<Insert<?>>, String> inserts = new ConcurrentHashMap<>();

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

  /**
   * In one round trip: the driver sends statements that are parted by semicolons one behind the
   * other, and reads what they gave when all are sent. So that the server is never waiting for it
   * to read while it waits for the server, there are not many of them.
   */
  @Override
  public void run(Connection connection, List<Step> steps) throws SQLException {
    for (int from = 0; from < steps.size(); from += TOGETHER) {
      runTogether(connection, steps.subList(from, Math.min(from + TOGETHER, steps.size())));
    }
  }

  private static void runTogether(Connection connection, List<Step> steps) throws SQLException {
    if (steps.stream().allMatch(Step::idle)) {
      return;
    }
    String text = steps.stream().map(Step::text).collect(joining("; "));
    try (PreparedStatement statement = connection.prepareStatement(text)) {
      int index = 1;
      for (Step step : steps) {
        index = step.bind().to(statement, index);
      }
      statement.execute();
      for (Step step : steps) {
        step.answer().from(statement);
        statement.getMoreResults();
      }
    }
  }

  /** As lists, one for each column: one statement whatever the number of rows and tables. */
  @Override
  public void write(Connection connection, List<Step> steps, List<Insert.Rows<?>> rows)
      throws SQLException {
    List<Insert<?>> tables = rows.stream().<Insert<?>>map(Insert.Rows::table).toList();
    String text = inserts.computeIfAbsent(tables, PostgresDialect::insertion);
    Step insertion =
        new Step(
            text,
            (statement, first) -> {
              int index = first;
              for (Insert.Rows<?> ofTable : rows) {
                index = bind(statement, index, ofTable);
              }
              return index;
            },
            statement -> {},
            false);
    run(connection, Stream.concat(steps.stream(), Stream.of(insertion)).toList());
  }

  /** All but the last beside it, as the server has it for several tables in one statement. */
  private static String insertion(List<Insert<?>> tables) {
    List<String> inserts = tables.stream().map(PostgresDialect::insertion).toList();
    int last = inserts.size() - 1;
    String others =
        IntStream.range(0, last)
            .mapToObj(i -> "t" + i + " AS (" + inserts.get(i) + ")")
            .collect(joining(", "));
    return (others.isEmpty() ? "" : "WITH " + others + " ") + inserts.get(last);
  }

  private static String insertion(Insert<?> table) {
    String lists = table.values().stream().map(list -> "?").collect(joining(", "));
    String columns = table.columns().collect(joining(", "));
    return table.from("unnest(" + lists + ") AS " + Insert.ROW + " (" + columns + ")");
  }

  private static <T> int bind(PreparedStatement statement, int first, Insert.Rows<T> rows)
      throws SQLException {
    int index = first;
    for (Insert.Value<T> value : rows.table().values()) {
      statement.setArray(index, list(statement.getConnection(), value, rows.items()));
      index++;
    }
    return index;
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

  /** A statement without a name is. */
  @Override
  public void planForValues(PreparedStatement statement) throws SQLException {
    statement.unwrap(PGStatement.class).setPrepareThreshold(0);
  }

  /**
   * As eight bytes from its first use on, instead of as texts the first five times, which for a
   * year of the house takes more than twice as long.
   */
  @Override
  public void expectNumbers(PreparedStatement statement) throws SQLException {
    statement.unwrap(PGStatement.class).setPrepareThreshold(-1);
  }

  @Override
  public FoundBy foundBy() {
    return new FoundByLists();
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
