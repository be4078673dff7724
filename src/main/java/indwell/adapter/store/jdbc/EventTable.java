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
import java.util.function.Consumer;
import java.util.stream.Collectors;

/** Table {@code event}. */
record EventTable(Sql sql) {
  private static final String COLUMNS =
      "SELECT source, event_id, version, withdrawn, patient_id, canonical, received_at, resources"
          + " FROM event";

  /**
   * In no order: for the sake of one PostgreSQL up to 16 would read all events of the source, in a
   * store without statistics.
   */
  private static final String VERSIONS = COLUMNS + " WHERE source = ? AND %s";

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

  private static final Insert<StoredEvent> INSERT =
      Insert.<StoredEvent>into("event")
          .text("source", event -> event.key().source())
          .text("event_id", event -> event.key().eventId())
          .number("version", StoredEvent::version)
          .number("withdrawn", event -> event.withdrawn() ? 1 : 0)
          .text("patient_id", StoredEvent::patientId)
          .text("canonical", StoredEvent::canonical)
          .number("received_at", event -> event.receivedAt().toEpochMilli())
          .text("resources", event -> TextList.join(event.resources()))
          .computed(
              "newest",
              "CASE WHEN EXISTS (SELECT 1 FROM event e WHERE e.source = n.source"
                  + " AND e.event_id = n.event_id AND e.version > n.version) THEN 0 ELSE 1 END");

  /** Asks for all versions of the events; a statement for each source, which are few. */
  static List<Step> versions(
      Dialect dialect, Collection<EventKey> keys, Consumer<StoredEvent> each) {
    String text = VERSIONS.formatted(dialect.in("event_id"));
    List<Step> steps = new ArrayList<>();
    keys.stream()
        .collect(Collectors.groupingBy(EventKey::source, TreeMap::new, Collectors.toSet()))
        .forEach(
            (source, ofSource) ->
                steps.add(
                    Step.question(
                        text,
                        (statement, first) -> {
                          statement.setString(first, source);
                          dialect.bindList(
                              statement,
                              first + 1,
                              ofSource.stream().map(EventKey::eventId).toList());
                          return first + 2;
                        },
                        EventTable::read,
                        each)));
    return steps;
  }

  /** Asks for the events of patients that are current. */
  static Step current(Dialect dialect, Collection<String> patientIds, Consumer<StoredEvent> each) {
    return Step.question(
        CURRENT.formatted(dialect.in("patient_id")),
        Step.listed(dialect, patientIds),
        EventTable::read,
        each);
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

  /**
   * Versions of different events that are to be added; whoever adds one of them first has won.
   * Those before them are the newest no more.
   */
  Insert.Rows<StoredEvent> appended(List<StoredEvent> events) {
    List<StoredEvent> later = events.stream().filter(e -> e.version() > 1).toList();
    sql.batch(OUTDATE, later, EventTable::bindVersion);
    return INSERT.rows(events);
  }

  private static void bindVersion(PreparedStatement statement, StoredEvent event)
      throws SQLException {
    statement.setString(1, event.key().source());
    statement.setString(2, event.key().eventId());
    statement.setInt(3, event.version());
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
