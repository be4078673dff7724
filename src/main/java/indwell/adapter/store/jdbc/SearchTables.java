package indwell.adapter.store.jdbc;

import indwell.fhir.search.SearchValue;
import indwell.fhir.search.SearchValue.Coded;
import indwell.fhir.search.SearchValue.Dated;
import indwell.port.ResourceKey;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;

/** Tables {@code search_code} and {@code search_time}: what the newest versions are found by. */
record SearchTables(Sql sql) {
  private static final Insert<Row<Coded>> CODES =
      Insert.<Row<Coded>>into("search_code")
          .text("reference", Row::reference)
          .text("parameter", row -> row.value().parameter())
          .text("system", row -> row.value().system())
          .text("value", row -> row.value().value());

  private static final Insert<Row<Dated>> TIMES =
      Insert.<Row<Dated>>into("search_time")
          .text("reference", Row::reference)
          .text("parameter", row -> row.value().parameter())
          .number("low", row -> row.value().low())
          .number("high", row -> row.value().high());

  private static final String VERSION = "SELECT version FROM search_index WHERE id = 1";
  private static final String SET_VERSION = "UPDATE search_index SET version = ? WHERE id = 1";

  private record Row<V>(String reference, V value) {}

  /** Takes away what these resources were found by. */
  void forget(Collection<ResourceKey> keys) {
    List<String> references = keys.stream().map(ResourceKey::reference).toList();
    sql.delete("search_code WHERE reference", references);
    sql.delete("search_time WHERE reference", references);
  }

  /**
   * What they are found by, which is to be added. What was there before must be forgotten: not
   * every database would notice a row that is there already.
   *
   * @param values of each resource each value once
   */
  List<Insert.Rows<?>> added(Map<ResourceKey, List<SearchValue>> values) {
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
    return List.of(CODES.rows(codes), TIMES.rows(times));
  }

  int version() {
    return sql.query(VERSION, statement -> {}, row -> row.getInt(1)).get(0);
  }

  void setVersion(int version) {
    sql.batch(SET_VERSION, List.of(version), (statement, number) -> statement.setInt(1, number));
  }
}
