package indwell.adapter.store.jdbc;

import java.util.List;

/** Table {@code search_index}: which release made what the newest versions are found by. */
record SearchIndexTable(Sql sql) {
  private static final String VERSION = "SELECT version FROM search_index WHERE id = 1";
  private static final String SET_VERSION = "UPDATE search_index SET version = ? WHERE id = 1";

  int version() {
    return sql.query(VERSION, statement -> {}, row -> row.getInt(1)).get(0);
  }

  void setVersion(int version) {
    sql.batch(SET_VERSION, List.of(version), (statement, number) -> statement.setInt(1, number));
  }
}
