package indwell.adapter.store.jdbc;

import indwell.fhir.search.SearchValue;
import indwell.fhir.search.SearchValue.Coded;
import indwell.fhir.search.SearchValue.Dated;
import indwell.port.ResourceKey;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;

/** Tables {@code search_code} and {@code search_time}: what the newest versions are found by. */
record SearchTables(Sql sql) {
  private static final String FORGET_CODES = "DELETE FROM search_code WHERE reference = ?";
  private static final String FORGET_TIMES = "DELETE FROM search_time WHERE reference = ?";

  private static final String ADD_CODE =
      "INSERT INTO search_code (reference, parameter, system, value) VALUES (?, ?, ?, ?)";

  private static final String ADD_TIME =
      "INSERT INTO search_time (reference, parameter, low, high) VALUES (?, ?, ?, ?)";

  private static final String VERSION = "SELECT version FROM search_index WHERE id = 1";
  private static final String SET_VERSION = "UPDATE search_index SET version = ? WHERE id = 1";

  private record Row<V>(String reference, V value) {}

  /** Takes away what these resources were found by. */
  void forget(Collection<ResourceKey> keys) {
    sql.batch(FORGET_CODES, keys, (statement, key) -> statement.setString(1, key.reference()));
    sql.batch(FORGET_TIMES, keys, (statement, key) -> statement.setString(1, key.reference()));
  }

  /**
   * Adds what they are found by, all in two statements. What was there before must be forgotten:
   * not every database would notice a row that is there already.
   *
   * @param values of each resource each value once
   */
  void add(Map<ResourceKey, List<SearchValue>> values) {
    List<Row<Coded>> codes = new ArrayList<>();
    List<Row<Dated>> times = new ArrayList<>();
    values.forEach(
        (key, all) ->
            all.forEach(
                value -> {
                  if (value instanceof Coded code) {
                    codes.add(new Row<>(key.reference(), code));
                  } else if (value instanceof Dated time) {
                    times.add(new Row<>(key.reference(), time));
                  }
                }));
    sql.batch(ADD_CODE, codes, SearchTables::bindCode);
    sql.batch(ADD_TIME, times, SearchTables::bindTime);
  }

  int version() {
    return sql.query(VERSION, statement -> {}, row -> row.getInt(1)).get(0);
  }

  void setVersion(int version) {
    sql.batch(SET_VERSION, List.of(version), (statement, number) -> statement.setInt(1, number));
  }

  private static void bindCode(PreparedStatement statement, Row<Coded> row) throws SQLException {
    statement.setString(1, row.reference());
    statement.setString(2, row.value().parameter());
    statement.setString(3, row.value().system());
    statement.setString(4, row.value().value());
  }

  private static void bindTime(PreparedStatement statement, Row<Dated> row) throws SQLException {
    statement.setString(1, row.reference());
    statement.setString(2, row.value().parameter());
    statement.setLong(3, row.value().low());
    statement.setLong(4, row.value().high());
  }
}
