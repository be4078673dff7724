package indwell.adapter.store.sqlite;

import indwell.adapter.store.jdbc.Dialect;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import org.sqlite.SQLiteErrorCode;
import org.sqlite.SQLiteException;

/** SQLite's spelling. Texts are compared byte by byte unless told otherwise. */
final class SqliteDialect implements Dialect {
  /** The lower eight bits of a result code are its kind. */
  private static final int KIND = 0xff;

  private static final Set<SQLiteErrorCode> TAKEN =
      Set.of(
          SQLiteErrorCode.SQLITE_CONSTRAINT_UNIQUE, SQLiteErrorCode.SQLITE_CONSTRAINT_PRIMARYKEY);

  @Override
  public String in(String expression) {
    return expression + " IN (SELECT value FROM json_each(?))";
  }

  @Override
  public String list(String name) {
    return "json_each(?) AS " + name;
  }

  @Override
  public void bindList(PreparedStatement statement, int index, Collection<String> values)
      throws SQLException {
    statement.setString(index, JsonArray.of(values));
  }

  @Override
  public String numbers(List<String> columns) {
    return columns.stream()
        .map("group_concat(%s)"::formatted)
        .collect(Collectors.joining(" || ',' || "));
  }

  @Override
  public long[] readNumbers(ResultSet row, int column) throws SQLException {
    String numbers = row.getString(column);
    return numbers == null
        ? new long[0]
        : Arrays.stream(numbers.split(",")).mapToLong(Long::parseLong).toArray();
  }

  @Override
  public Failure classify(SQLException failure) {
    if (failure.getErrorCode() == 0) {
      // The pool's own failures (no connection in time, closed) carry no code of SQLite's.
      return failure instanceof SQLiteException ? Failure.DEFECT : Failure.UNAVAILABLE;
    }
    if (failure instanceof SQLiteException own && TAKEN.contains(own.getResultCode())) {
      return Failure.TAKEN;
    }
    return switch (SQLiteErrorCode.getErrorCode(failure.getErrorCode() & KIND)) {
      case SQLITE_BUSY,
          SQLITE_LOCKED,
          SQLITE_READONLY,
          SQLITE_IOERR,
          SQLITE_FULL,
          SQLITE_CANTOPEN,
          SQLITE_PERM,
          SQLITE_AUTH,
          SQLITE_NOMEM,
          SQLITE_PROTOCOL ->
          Failure.UNAVAILABLE;
      default -> Failure.DEFECT;
    };
  }

  @Override
  public String ownScripts() {
    return "sqlite";
  }

  @Override
  public Map<String, String> placeholders() {
    return Map.of(
        "text", "TEXT",
        "sequence", "INTEGER PRIMARY KEY AUTOINCREMENT",
        "clustered", "WITHOUT ROWID");
  }
}
