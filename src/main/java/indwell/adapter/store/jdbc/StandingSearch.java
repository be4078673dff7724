package indwell.adapter.store.jdbc;

import indwell.port.ResourceText;
import indwell.port.Standing;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * Resources as they stood at a time: rows up to that time that have no higher version up to it. It
 * reads along the index of references, a page at a time, and holds no transaction between pages.
 */
record StandingSearch(Sql sql) {
  private static final String STANDING =
      "SELECT r.reference, r.json FROM resource r WHERE r.reference > ? AND r.reference < ? AND r.last_updated <= ?"
          + " AND r.last_updated > ? AND r.last_updated < ?"
          + " AND (r.newest = 1 OR NOT EXISTS (SELECT 1 FROM resource n"
          + " WHERE n.reference = r.reference AND n.version > r.version"
          + " AND n.last_updated <= ?))%s ORDER BY r.reference LIMIT ?";

  List<ResourceText> page(Standing question) {
    Dialect dialect = sql.dialect();
    Set<String> references =
        question.ids().stream().map(id -> question.type() + "/" + id).collect(Collectors.toSet());
    String only = references.isEmpty() ? "" : " AND " + dialect.in("r.reference");
    String of = question.patientIds().isEmpty() ? "" : " AND " + dialect.in("r.patient_id");
    return sql.query(
        STANDING.formatted(only + of),
        statement -> {
          int at = 0;
          statement.setString(++at, question.type() + "/" + question.afterId().orElse(""));
          // The character after the slash ends the references of the type.
          statement.setString(++at, question.type() + "0");
          statement.setLong(++at, SpanTime.toColumn(question.at()));
          statement.setLong(++at, SpanTime.toColumn(question.since()));
          statement.setLong(++at, SpanTime.toColumn(question.until()));
          statement.setLong(++at, SpanTime.toColumn(question.at()));
          if (!references.isEmpty()) {
            dialect.bindList(statement, ++at, references);
          }
          if (!question.patientIds().isEmpty()) {
            dialect.bindList(statement, ++at, question.patientIds());
          }
          statement.setInt(++at, question.limit());
        },
        row -> new ResourceText(ResourceTable.key(row.getString(1)), row.getBytes(2)));
  }
}
