package indwell.adapter.store.jdbc;

import indwell.domain.event.EventKey;
import indwell.port.StoredEvent;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Collectors;

/** Table {@code event}. */
record EventTable(Sql sql) {
  private static final String COLUMNS =
      "SELECT source, event_id, version, withdrawn, patient_id, canonical, received_at, resources"
          + " FROM event";

  private static final String VERSIONS =
      COLUMNS + " WHERE source = ? AND %s ORDER BY event_id, version";

  private static final String CURRENT = COLUMNS + " WHERE newest = 1 AND withdrawn = 0 AND %s";

  private static final String CORRECTED =
      "SELECT patient_id, max(at) FROM ("
          + "SELECT o.patient_id AS patient_id, e.received_at AS at FROM event o JOIN event e"
          + " ON e.source = o.source AND e.event_id = o.event_id AND e.version > o.version"
          + " WHERE o.newest = 0 AND %s UNION ALL SELECT w.patient_id AS patient_id,"
          + " w.received_at AS at FROM event w WHERE w.newest = 1 AND w.withdrawn = 1 AND %s"
          + ") corrected GROUP BY patient_id";

  private static final String CORRECTED_OF =
      "SELECT DISTINCT source, event_id FROM event"
          + " WHERE patient_id = ? AND (newest = 0 OR version > 1)";

  private static final String OUTDATE =
      "UPDATE event SET newest = 0"
          + " WHERE source = ? AND event_id = ? AND version < ? AND newest = 1";

  private static final String INSERT =
      "INSERT INTO event (source, event_id, version, newest, withdrawn, patient_id, canonical,"
          + " received_at, resources) VALUES (?, ?, ?, CASE WHEN EXISTS (SELECT 1 FROM event e"
          + " WHERE e.source = ? AND e.event_id = ? AND e.version > ?) THEN 0 ELSE 1 END,"
          + " ?, ?, ?, ?, ?)";

  /** All versions of the events, of each ascending; a statement for each source, which are few. */
  List<StoredEvent> versions(Collection<EventKey> keys) {
    Dialect dialect = sql.dialect();
    String text = VERSIONS.formatted(dialect.in("event_id"));
    List<StoredEvent> versions = new ArrayList<>();
    keys.stream()
        .collect(Collectors.groupingBy(EventKey::source, TreeMap::new, Collectors.toSet()))
        .forEach(
            (source, ofSource) ->
                versions.addAll(
                    sql.query(
                        text,
                        statement -> {
                          statement.setString(1, source);
                          dialect.bindList(
                              statement, 2, ofSource.stream().map(EventKey::eventId).toList());
                        },
                        EventTable::read)));
    return versions;
  }

  List<StoredEvent> current(Collection<String> patientIds) {
    Dialect dialect = sql.dialect();
    return sql.query(
        CURRENT.formatted(dialect.in("patient_id")),
        statement -> dialect.bindList(statement, 1, patientIds),
        EventTable::read);
  }

  Map<String, Instant> lastCorrections(Collection<String> patientIds) {
    Dialect dialect = sql.dialect();
    Map<String, Instant> last = new HashMap<>();
    sql.query(
            CORRECTED.formatted(dialect.in("o.patient_id"), dialect.in("w.patient_id")),
            statement -> {
              dialect.bindList(statement, 1, patientIds);
              dialect.bindList(statement, 2, patientIds);
            },
            row -> Map.entry(row.getString(1), Instant.ofEpochMilli(row.getLong(2))))
        .forEach(entry -> last.put(entry.getKey(), entry.getValue()));
    return last;
  }

  List<EventKey> corrected(String patientId) {
    return sql.query(
        CORRECTED_OF,
        statement -> statement.setString(1, patientId),
        row -> new EventKey(row.getString(1), row.getString(2)));
  }

  /** Adds versions of different events; whoever added one of them first has won. */
  void append(List<StoredEvent> events) {
    List<StoredEvent> later = events.stream().filter(e -> e.version() > 1).toList();
    sql.batch(OUTDATE, later, EventTable::bindVersion);
    sql.batch(INSERT, events, EventTable::bindInsert);
  }

  private static void bindVersion(PreparedStatement statement, StoredEvent event)
      throws SQLException {
    bindKey(statement, 1, event.key());
    statement.setInt(3, event.version());
  }

  private static void bindInsert(PreparedStatement statement, StoredEvent event)
      throws SQLException {
    bindVersion(statement, event);
    bindKey(statement, 4, event.key());
    statement.setInt(6, event.version());
    statement.setInt(7, event.withdrawn() ? 1 : 0);
    statement.setString(8, event.patientId());
    statement.setString(9, event.canonical());
    statement.setLong(10, event.receivedAt().toEpochMilli());
    statement.setString(11, TextList.join(event.resources()));
  }

  private static void bindKey(PreparedStatement statement, int index, EventKey key)
      throws SQLException {
    statement.setString(index, key.source());
    statement.setString(index + 1, key.eventId());
  }

  private static StoredEvent read(ResultSet row) throws SQLException {
    return new StoredEvent(
        new EventKey(row.getString(1), row.getString(2)),
        row.getInt(3),
        row.getInt(4) == 1,
        row.getString(5),
        row.getString(6),
        Instant.ofEpochMilli(row.getLong(7)),
        TextList.split(row.getString(8)));
  }
}
