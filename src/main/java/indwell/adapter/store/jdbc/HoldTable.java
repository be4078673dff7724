package indwell.adapter.store.jdbc;

import indwell.port.LaneHold;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** Table {@code publication_hold}: lanes of which nothing is sent. */
record HoldTable(Sql sql) {
  private static final String COLUMNS =
      "SELECT lane, parked, attempts, next_try, resource, reason, since FROM publication_hold";

  private static final String OF = COLUMNS + " WHERE lane = ?";

  private static final String ALL = COLUMNS + " ORDER BY since, lane";

  private static final String PUT =
      "INSERT INTO publication_hold (lane, parked, attempts, next_try, resource, reason, since)"
          + " VALUES (?, ?, ?, ?, ?, ?, ?) ON CONFLICT (lane) DO UPDATE SET"
          + " parked = excluded.parked, attempts = excluded.attempts,"
          + " next_try = excluded.next_try, resource = excluded.resource,"
          + " reason = excluded.reason, since = excluded.since";

  private static final String REMOVE = "DELETE FROM publication_hold WHERE lane = ?";

  /** The condition keeps the statement one with a parameter. */
  private static final String REMOVE_ALL = "DELETE FROM publication_hold WHERE lane <> ?";

  Optional<LaneHold> of(String lane) {
    return sql.query(OF, statement -> statement.setString(1, lane), HoldTable::read).stream()
        .findFirst();
  }

  List<LaneHold> all() {
    return sql.query(ALL, statement -> {}, HoldTable::read);
  }

  boolean put(LaneHold hold) {
    return sql.batch(PUT, List.of(hold), HoldTable::bind)[0] == 1;
  }

  boolean remove(String lane) {
    return sql.batch(REMOVE, List.of(lane), (statement, one) -> statement.setString(1, one))[0]
        == 1;
  }

  /** No lane has a space for a name. */
  void removeAll() {
    sql.batch(REMOVE_ALL, List.of(" "), (statement, none) -> statement.setString(1, none));
  }

  private static void bind(PreparedStatement statement, LaneHold hold) throws SQLException {
    statement.setString(1, hold.lane());
    statement.setInt(2, hold.parked() ? 1 : 0);
    statement.setInt(3, hold.attempts());
    statement.setLong(4, hold.nextTry().toEpochMilli());
    statement.setString(5, hold.resource());
    statement.setString(6, hold.reason());
    statement.setLong(7, hold.since().toEpochMilli());
  }

  private static LaneHold read(ResultSet row) throws SQLException {
    return new LaneHold(
        row.getString(1),
        row.getInt(2) == 1,
        row.getInt(3),
        Instant.ofEpochMilli(row.getLong(4)),
        row.getString(5),
        row.getString(6),
        Instant.ofEpochMilli(row.getLong(7)));
  }
}
