package indwell.adapter.store.jdbc;

import java.time.Instant;
import java.util.List;

/** Table {@code publication_feed}: one row, which says how far, who and where to. */
record FeedTable(Sql sql) {
  private static final String CHANGE = "SELECT change FROM publication_feed WHERE id = 1";

  private static final String MOVE =
      "UPDATE publication_feed SET change = ? WHERE id = 1 AND change < ?";

  private static final String LEAD =
      "UPDATE publication_feed SET owner = ?, until = ? WHERE id = 1 AND (owner = ? OR until <= ?)";

  private static final String RESIGN =
      "UPDATE publication_feed SET owner = '', until = 0 WHERE id = 1 AND owner = ?";

  private static final String AIM =
      "UPDATE publication_feed SET target = ? WHERE id = 1 AND target <> ?";

  /** The last change that was read; 0 for none. */
  long change() {
    return sql.query(CHANGE, statement -> {}, row -> row.getLong(1)).get(0);
  }

  void moveTo(long change) {
    sql.batch(
        MOVE,
        List.of(change),
        (statement, to) -> {
          statement.setLong(1, to);
          statement.setLong(2, to);
        });
  }

  boolean lead(String owner, Instant now, Instant until) {
    return one(
        sql.batch(
            LEAD,
            List.of(owner),
            (statement, who) -> {
              statement.setString(1, who);
              statement.setLong(2, until.toEpochMilli());
              statement.setString(3, who);
              statement.setLong(4, now.toEpochMilli());
            }));
  }

  boolean resign(String owner) {
    return one(sql.batch(RESIGN, List.of(owner), (statement, who) -> statement.setString(1, who)));
  }

  boolean aim(String target) {
    return one(
        sql.batch(
            AIM,
            List.of(target),
            (statement, to) -> {
              statement.setString(1, to);
              statement.setString(2, to);
            }));
  }

  private static boolean one(int[] rows) {
    return rows[0] == 1;
  }
}
