package indwell.adapter.store.jdbc;

import indwell.domain.time.Span;
import indwell.port.ChangeQuery;
import indwell.port.StoredResource;
import java.util.List;

/** A {@link ChangeQuery} in SQL. */
record ChangeSearch(Sql sql, ChangeQuery query) {
  List<StoredResource> page() {
    Condition statement = new Condition(sql.dialect()).sql(ResourceTable.COLUMNS);
    where(statement);
    query
        .after()
        .ifPresent(
            mark ->
                statement
                    .sql(" AND (r.last_updated < ?", mark.written())
                    .sql(" OR (r.last_updated = ?", mark.written())
                    .sql(" AND (r.reference < ?", mark.reference())
                    .sql(" OR (r.reference = ?", mark.reference())
                    .sql(" AND r.version < ?))))", mark.version()));
    statement.sql(
        " ORDER BY r.last_updated DESC, r.reference DESC, r.version DESC LIMIT ?", query.limit());
    return sql.query(statement.text(), statement::bind, ResourceTable::read);
  }

  long count() {
    Condition statement = new Condition(sql.dialect()).sql("SELECT count(*) FROM resource r");
    where(statement);
    return sql.query(statement.text(), statement::bind, row -> row.getLong(1)).get(0);
  }

  private void where(Condition statement) {
    // All references lie above the empty text; the condition is there so that others can follow.
    statement.sql(" WHERE r.reference > ?", query.type().map(type -> type + "/").orElse(""));
    query.type().ifPresent(type -> statement.sql(" AND r.reference < ?", type + "0"));
    query
        .id()
        .ifPresent(id -> statement.sql(" AND r.reference = ?", query.type().orElse("") + "/" + id));
    // Times of writing have milliseconds, so "at or after" a finer time begins with the next one.
    query
        .since()
        .ifPresent(since -> statement.sql(" AND r.last_updated >= ?", Span.millisUp(since)));
  }
}
