package indwell.adapter.store.jdbc;

import indwell.port.Publication;
import indwell.port.ResourceKey;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** Table {@code publication}, and the changes of resources that it is made from. */
record PublicationTable(Sql sql) {
  private static final String CHANGES =
      "SELECT change, reference, version, last_updated, patient_id FROM resource"
          + " WHERE change > ? AND change <= ? ORDER BY change LIMIT ?";

  private static final String COLUMNS =
      "SELECT p.reference, p.version, p.sent_version, p.their_id, p.their_version"
          + " FROM publication p";

  /** Only a resource that does not wait yet takes the place in line of its new change. */
  private static final String WAIT =
      "INSERT INTO publication (reference, lane, change, since, version, sent_version, their_id,"
          + " their_version) VALUES (?, ?, ?, ?, ?, 0, '', '')"
          + " ON CONFLICT (reference) DO UPDATE SET lane = excluded.lane,"
          + " change = CASE WHEN publication.version > publication.sent_version"
          + " THEN publication.change ELSE excluded.change END,"
          + " since = CASE WHEN publication.version > publication.sent_version"
          + " THEN publication.since ELSE excluded.since END,"
          + " version = CASE WHEN excluded.version > publication.version"
          + " THEN excluded.version ELSE publication.version END";

  private static final String READY =
      "SELECT p.lane FROM publication p WHERE p.version > p.sent_version AND NOT EXISTS"
          + " (SELECT 1 FROM publication_hold h WHERE h.lane = p.lane"
          + " AND (h.parked = 1 OR h.next_try > ?)) ORDER BY p.change LIMIT ?";

  private static final String WAITING =
      COLUMNS + " WHERE p.lane = ? AND p.version > p.sent_version ORDER BY p.change LIMIT ?";

  private static final String KNOWN = COLUMNS + " WHERE ";

  /** A ward that a patient's resource names may be sent before its own change was looked at. */
  private static final String ACCEPTED =
      "INSERT INTO publication (reference, lane, change, since, version, sent_version, their_id,"
          + " their_version) VALUES (?, '', 0, 0, ?, ?, ?, ?)"
          + " ON CONFLICT (reference) DO UPDATE SET"
          + " version = CASE WHEN excluded.version > publication.version"
          + " THEN excluded.version ELSE publication.version END,"
          + " sent_version = CASE WHEN excluded.sent_version > publication.sent_version"
          + " THEN excluded.sent_version ELSE publication.sent_version END,"
          + " their_id = excluded.their_id, their_version = excluded.their_version";

  private static final String AGAIN =
      "UPDATE publication SET sent_version = 0, their_version = '' WHERE reference = ?";

  private static final String FORGET_ALL =
      "UPDATE publication SET sent_version = 0, their_id = '', their_version = ''"
          + " WHERE sent_version >= ?";

  private static final String SKIP =
      "UPDATE publication SET sent_version = version WHERE reference = ?";

  private static final String COUNT_WAITING =
      "SELECT count(*) FROM publication WHERE version > sent_version";

  private static final String OLDEST_WAITING =
      "SELECT since FROM publication WHERE version > sent_version ORDER BY change LIMIT 1";

  private static final String COUNT_UNREAD = "SELECT count(*) FROM resource WHERE change > ?";

  private static final String OLDEST_UNREAD =
      "SELECT last_updated FROM resource WHERE change > ? ORDER BY change LIMIT 1";

  /** A version of a resource that was written. */
  record Change(long change, String reference, int version, long lastUpdated, String patientId) {
    /** The two as one change: the place of the earlier, the content of the later. */
    Change followedBy(Change later) {
      return new Change(change, reference, later.version, lastUpdated, later.patientId);
    }
  }

  /** Changes after the one given, up to and with the last one given. */
  List<Change> changes(long after, long last, int limit) {
    return sql.query(
        CHANGES,
        statement -> {
          statement.setLong(1, after);
          statement.setLong(2, last);
          statement.setInt(3, limit);
        },
        row ->
            new Change(
                row.getLong(1), row.getString(2), row.getInt(3), row.getLong(4), row.getString(5)));
  }

  /** Has the resources wait; each of them once. */
  void wait(List<Change> changes) {
    Map<String, Change> byResource = new LinkedHashMap<>();
    changes.forEach(one -> byResource.merge(one.reference(), one, Change::followedBy));
    sql.batch(
        WAIT,
        byResource.values(),
        (statement, one) -> {
          statement.setString(1, one.reference());
          statement.setString(2, one.patientId());
          statement.setLong(3, one.change());
          statement.setLong(4, one.lastUpdated());
          statement.setInt(5, one.version());
        });
  }

  List<String> ready(Instant now, int limit) {
    return sql
        .query(
            READY,
            statement -> {
              statement.setLong(1, now.toEpochMilli());
              statement.setInt(2, limit);
            },
            row -> row.getString(1))
        .stream()
        .distinct()
        .toList();
  }

  List<Publication> waiting(String lane, int limit) {
    return sql.query(
        WAITING,
        statement -> {
          statement.setString(1, lane);
          statement.setInt(2, limit);
        },
        PublicationTable::read);
  }

  List<Publication> known(Collection<ResourceKey> keys) {
    List<String> references = keys.stream().map(ResourceKey::reference).distinct().toList();
    return sql.query(
        KNOWN + sql.dialect().in("p.reference"),
        statement -> sql.dialect().bindList(statement, 1, references),
        PublicationTable::read);
  }

  int[] accepted(Collection<Publication> taken) {
    return sql.batch(ACCEPTED, taken, PublicationTable::bindAccepted);
  }

  int[] again(Collection<ResourceKey> keys) {
    return sql.batch(AGAIN, keys, (statement, key) -> statement.setString(1, key.reference()));
  }

  void forgetAll() {
    sql.batch(FORGET_ALL, List.of(0), (statement, least) -> statement.setInt(1, least));
  }

  int[] skip(ResourceKey key) {
    return sql.batch(
        SKIP, List.of(key), (statement, one) -> statement.setString(1, one.reference()));
  }

  long countWaiting() {
    return sql.query(COUNT_WAITING, statement -> {}, row -> row.getLong(1)).get(0);
  }

  List<Instant> oldestWaiting() {
    return sql.query(OLDEST_WAITING, statement -> {}, row -> Instant.ofEpochMilli(row.getLong(1)));
  }

  long countUnread(long read) {
    return sql.query(COUNT_UNREAD, statement -> statement.setLong(1, read), row -> row.getLong(1))
        .get(0);
  }

  List<Instant> oldestUnread(long read) {
    return sql.query(
        OLDEST_UNREAD,
        statement -> statement.setLong(1, read),
        row -> Instant.ofEpochMilli(row.getLong(1)));
  }

  private static void bindAccepted(PreparedStatement statement, Publication taken)
      throws SQLException {
    statement.setString(1, taken.key().reference());
    statement.setInt(2, taken.sentVersion());
    statement.setInt(3, taken.sentVersion());
    statement.setString(4, taken.theirId());
    statement.setString(5, taken.theirVersion());
  }

  private static Publication read(ResultSet row) throws SQLException {
    return new Publication(
        key(row.getString(1)), row.getInt(2), row.getInt(3), row.getString(4), row.getString(5));
  }

  private static ResourceKey key(String reference) {
    int slash = reference.indexOf('/');
    return new ResourceKey(reference.substring(0, slash), reference.substring(slash + 1));
  }
}
