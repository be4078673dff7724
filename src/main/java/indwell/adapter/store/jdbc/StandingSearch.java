package indwell.adapter.store.jdbc;

import indwell.port.ResourceKey;
import indwell.port.ResourceText;
import indwell.port.Standing;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.Collection;
import java.util.List;
import java.util.Set;
import java.util.function.Consumer;
import java.util.stream.Collectors;

/**
 * Resources as they stood at a time. Most stood as they are now: these are the newest versions,
 * read as the table lies. Only of those that were written since is an earlier version looked for.
 */
record StandingSearch(Sql sql, Standing question) {
  private static final String AS_THEY_ARE =
      "SELECT r.reference, r.json FROM resource r WHERE r.newest = 1 AND r.last_updated <= ?";

  private static final String AS_THEY_WERE =
      " UNION ALL SELECT r.reference, r.json FROM resource n JOIN resource r"
          + " ON r.reference = n.reference AND r.version = (SELECT max(v.version) FROM resource v"
          + " WHERE v.reference = n.reference AND v.last_updated <= ?)";

  private static final String WRITTEN_SINCE = " WHERE n.newest = 1 AND n.last_updated > ?";

  List<ResourceText> among(Set<ResourceKey> keys) {
    if (keys.isEmpty()) {
      return List.of();
    }
    Condition statement =
        statement(keys.stream().map(ResourceKey::reference).collect(Collectors.toSet()));
    return sql.query(statement.text(), statement::bind, StandingSearch::read);
  }

  void each(Consumer<ResourceText> visit) {
    Condition statement = statement(Set.of());
    sql.forEach(statement.text(), statement::bind, row -> visit.accept(read(row)));
  }

  /**
   * @param references only these; empty means any
   */
  private Condition statement(Collection<String> references) {
    long at = SpanTime.toColumn(question.at());
    Condition statement = new Condition(sql.dialect()).sql(AS_THEY_ARE, at);
    where(statement, references);
    statement.sql(AS_THEY_WERE, at).sql(WRITTEN_SINCE, at);
    where(statement, references);
    return statement;
  }

  private void where(Condition statement, Collection<String> references) {
    statement.sql(" AND r.last_updated > ?", SpanTime.toColumn(question.since()));
    statement.sql(" AND r.last_updated < ?", SpanTime.toColumn(question.until()));
    if (!references.isEmpty()) {
      statement.sql(" AND ").in("r.reference", references);
    }
    if (!question.patientIds().isEmpty()) {
      statement.sql(" AND ").in("r.patient_id", question.patientIds());
    }
    String or = " AND (";
    for (String type : question.types()) {
      // The character after the slash ends the references of the type.
      statement.sql(or + "r.reference > ?", type + "/").sql(" AND r.reference < ?", type + "0");
      or = " OR ";
    }
    statement.sql(")");
  }

  private static ResourceText read(ResultSet row) throws SQLException {
    return new ResourceText(ResourceTable.key(row.getString(1)), row.getBytes(2));
  }
}
