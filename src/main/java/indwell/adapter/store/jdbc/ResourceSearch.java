package indwell.adapter.store.jdbc;

import indwell.port.ResourceQuery;
import indwell.port.SearchCondition;
import indwell.port.SearchCondition.Code;
import indwell.port.SearchCondition.HasCode;
import indwell.port.SearchOrder;
import indwell.port.StoredResource;
import java.util.List;
import java.util.Optional;

/** A {@link ResourceQuery} in SQL. */
final class ResourceSearch {
  private final Sql sql;
  private final ResourceQuery query;

  ResourceSearch(Sql sql, ResourceQuery query) {
    this.sql = sql;
    this.query = query;
  }

  List<StoredResource> page() {
    Condition statement = query.order().isById() ? pageById() : pageByKey();
    statement.sql(" LIMIT ?", query.limit());
    return sql.query(statement.text(), statement::bind, ResourceTable::read);
  }

  long count() {
    Condition statement = new Condition(sql.dialect());
    statement.sql("SELECT count(*) FROM resource r");
    where(statement);
    return sql.query(statement.text(), statement::bind, row -> row.getLong(1)).get(0);
  }

  private Condition pageById() {
    boolean descending = query.order().descending();
    Condition statement = new Condition(sql.dialect()).sql(ResourceTable.COLUMNS);
    where(statement);
    query
        .afterId()
        .ifPresent(
            id -> statement.sql(" AND r.reference " + beyond(descending) + " ?", reference(id)));
    return statement.sql(" ORDER BY r.reference" + direction(descending));
  }

  /** The key is worked out for each candidate, since what it is made of stands in other rows. */
  private Condition pageByKey() {
    SearchOrder order = query.order();
    Condition statement = new Condition(sql.dialect());
    statement.sql(ResourceTable.COLUMNS.replace("FROM resource r", "FROM (SELECT r.*, "));
    key(statement);
    statement.sql(" AS place FROM resource r");
    where(statement);
    statement.sql(") r WHERE r.place IS NOT NULL");
    String beyond = beyond(order.descending());
    if (query.afterId().isPresent()) {
      long after = order.after().orElse(0);
      statement.sql(" AND (r.place " + beyond + " ?", after);
      statement.sql(" OR (r.place = ?", after);
      statement.sql(" AND r.reference " + beyond + " ?))", reference(query.afterId().get()));
    }
    String direction = direction(order.descending());
    return statement.sql(" ORDER BY r.place" + direction + ", r.reference" + direction);
  }

  private void key(Condition statement) {
    SearchOrder order = query.order();
    if (order.parameter().equals("_lastUpdated")) {
      statement.sql(
          "(SELECT max(v.last_updated) FROM resource v WHERE v.reference = r.reference"
              + " AND v.last_updated <= ?)",
          order.asOf());
    } else {
      statement.sql(
          "coalesce((SELECT min(t.low) FROM search_time t WHERE t.reference = r.reference"
              + " AND t.parameter = ?), "
              + Long.MAX_VALUE
              + ")",
          order.parameter());
    }
  }

  private static String beyond(boolean descending) {
    return descending ? "<" : ">";
  }

  private static String direction(boolean descending) {
    return descending ? " DESC" : "";
  }

  private void where(Condition statement) {
    statement.sql(" WHERE r.newest = 1");
    // All references of a type lie between "Type/" and the character after the slash.
    statement.sql(" AND r.reference > ?", reference(""));
    statement.sql(" AND r.reference < ?", query.type() + "0");
    if (!query.ids().isEmpty()) {
      statement.sql(" AND ");
      statement.in("r.reference", query.ids().stream().map(this::reference).toList());
    }
    if (!query.patientIds().isEmpty()) {
      statement.sql(" AND ").in("r.patient_id", query.patientIds());
    }
    SearchConditions conditions = new SearchConditions(statement);
    if (!query.identifiers().isEmpty()) {
      statement.sql(" AND ");
      conditions.write(identified());
    }
    for (SearchCondition condition : query.conditions()) {
      statement.sql(" AND ");
      conditions.write(condition);
    }
  }

  private SearchCondition identified() {
    return new HasCode(
        FoundBy.IDENTIFIER, query.identifiers().stream().map(ResourceSearch::code).toList(), false);
  }

  private static Code code(String token) {
    int bar = token.indexOf('|');
    if (bar < 0) {
      return new Code(Optional.empty(), Optional.of(token));
    }
    boolean anyValue = bar > 0 && bar == token.length() - 1;
    return new Code(
        Optional.of(token.substring(0, bar)),
        anyValue ? Optional.empty() : Optional.of(token.substring(bar + 1)));
  }

  private String reference(String id) {
    return query.type() + "/" + id;
  }
}
