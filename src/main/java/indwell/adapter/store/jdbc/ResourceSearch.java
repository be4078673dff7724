package indwell.adapter.store.jdbc;

import indwell.port.ResourceQuery;
import indwell.port.StoredResource;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.stream.Collectors;

/** A {@link ResourceQuery} in SQL. The text is put together from constants, never from values. */
final class ResourceSearch {
  private static final String BY_TOKEN =
      "r.reference IN (SELECT i.reference FROM resource_identifier i WHERE ";

  private final Sql sql;
  private final ResourceQuery query;
  private final StringBuilder where = new StringBuilder(" WHERE r.newest = 1");
  private final List<Parameter> parameters = new ArrayList<>();

  @FunctionalInterface
  private interface Parameter {
    void bind(PreparedStatement statement, int index) throws SQLException;
  }

  ResourceSearch(Sql sql, ResourceQuery query) {
    this.sql = sql;
    this.query = query;
    // All references of a type lie between "Type/" and the character after the slash.
    and("r.reference < ?", query.type() + "0");
    if (!query.ids().isEmpty()) {
      and(in("r.reference", query.ids().stream().map(this::reference).toList()));
    }
    if (!query.patientIds().isEmpty()) {
      and(in("r.patient_id", query.patientIds()));
    }
    if (!query.identifiers().isEmpty()) {
      and(identified());
    }
  }

  List<StoredResource> page() {
    and("r.reference > ?", reference(query.afterId().orElse("")));
    String text = ResourceTable.COLUMNS + where + " ORDER BY r.reference LIMIT ?";
    parameters.add((statement, index) -> statement.setInt(index, query.limit()));
    return sql.query(text, this::bind, ResourceTable::read);
  }

  long count() {
    and("r.reference > ?", reference(""));
    String text = "SELECT count(*) FROM resource r" + where;
    return sql.query(text, this::bind, row -> row.getLong(1)).get(0);
  }

  private String reference(String id) {
    return query.type() + "/" + id;
  }

  private void bind(PreparedStatement statement) throws SQLException {
    for (int i = 0; i < parameters.size(); i++) {
      parameters.get(i).bind(statement, i + 1);
    }
  }

  private void and(String condition) {
    where.append(" AND ").append(condition);
  }

  private void and(String condition, String value) {
    and(condition);
    parameters.add((statement, index) -> statement.setString(index, value));
  }

  private String in(String column, Collection<String> values) {
    Dialect dialect = sql.dialect();
    parameters.add((statement, index) -> dialect.bindList(statement, index, values));
    return dialect.in(column);
  }

  /** One list for each form of token, so that any number of tokens makes the same statement. */
  private String identified() {
    List<String> full = new ArrayList<>();
    List<String> valuesOnly = new ArrayList<>();
    List<String> systemsOnly = new ArrayList<>();
    for (String token : query.identifiers()) {
      int bar = token.indexOf('|');
      if (bar < 0) {
        valuesOnly.add(token);
      } else if (bar > 0 && bar == token.length() - 1) {
        systemsOnly.add(token.substring(0, bar));
      } else {
        full.add(token);
      }
    }
    List<String> any = new ArrayList<>();
    if (!full.isEmpty()) {
      any.add(full(full));
    }
    if (!valuesOnly.isEmpty()) {
      any.add(BY_TOKEN + in("i.value", valuesOnly) + ")");
    }
    if (!systemsOnly.isEmpty()) {
      any.add(ofSystem(systemsOnly));
    }
    return any.stream().collect(Collectors.joining(" OR ", "(", ")"));
  }

  /** The values alone are looked up by index; the whole tokens then decide. */
  private String full(List<String> tokens) {
    List<String> values = tokens.stream().map(t -> t.substring(t.indexOf('|') + 1)).toList();
    return BY_TOKEN
        + in("i.value", values)
        + " AND "
        + in("i.system || '|' || i.value", tokens)
        + ")";
  }

  /** Nearly every resource may have the system, so each candidate is asked instead. */
  private String ofSystem(List<String> systems) {
    return "EXISTS (SELECT 1 FROM resource_identifier i WHERE i.reference = r.reference AND "
        + in("i.system", systems)
        + ")";
  }
}
