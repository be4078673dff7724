package indwell.adapter.store.jdbc;

import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Action;
import indwell.port.AuditEntry.Agent;
import indwell.port.AuditEntry.Kind;
import indwell.port.AuditLog;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Table {@code audit}. */
final class JdbcAuditLog implements AuditLog {
  private static final String NAMES =
      "at, kind, client, person, address, action, interaction, entity, patient, status";

  private static final String INSERT =
      "INSERT INTO audit (" + NAMES + ") VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)";

  private final JdbcStore store;

  JdbcAuditLog(JdbcStore store) {
    this.store = store;
  }

  @Override
  public void append(List<AuditEntry> entries) {
    if (!entries.isEmpty()) {
      store.writeRows(sql -> sql.batch(INSERT, entries, JdbcAuditLog::bind));
    }
  }

  private static void bind(PreparedStatement statement, AuditEntry entry) throws SQLException {
    statement.setLong(1, entry.at().toEpochMilli());
    statement.setString(2, entry.agent().kind().name());
    statement.setString(3, entry.agent().client());
    statement.setString(4, entry.agent().user().orElse(""));
    statement.setString(5, entry.address());
    statement.setString(6, entry.action().name());
    statement.setString(7, entry.interaction());
    statement.setString(8, entry.entity().orElse(""));
    statement.setString(9, entry.patient().orElse(""));
    statement.setInt(10, entry.status());
  }

  @Override
  public List<Numbered> find(Question question) {
    List<String> conditions = new ArrayList<>();
    List<Object> values = new ArrayList<>();
    question.from().ifPresent(at -> add(conditions, values, "at >= ?", at.toEpochMilli()));
    question.endExclusive().ifPresent(at -> add(conditions, values, "at < ?", at.toEpochMilli()));
    question.client().ifPresent(text -> add(conditions, values, "client = ?", text));
    question.patient().ifPresent(text -> add(conditions, values, "patient = ?", text));
    question.entity().ifPresent(text -> add(conditions, values, "entity = ?", text));
    question.belowNumber().ifPresent(number -> add(conditions, values, "number < ?", number));
    values.add(question.limit());
    String where = conditions.isEmpty() ? "" : " WHERE " + String.join(" AND ", conditions);
    String query =
        "SELECT number, " + NAMES + " FROM audit" + where + " ORDER BY number DESC LIMIT ?";
    return store.readRows(
        sql -> sql.query(query, statement -> bind(statement, values), JdbcAuditLog::read));
  }

  private static void add(
      List<String> conditions, List<Object> values, String condition, Object value) {
    conditions.add(condition);
    values.add(value);
  }

  private static void bind(PreparedStatement statement, List<Object> values) throws SQLException {
    for (int i = 0; i < values.size(); i++) {
      statement.setObject(i + 1, values.get(i));
    }
  }

  private static Numbered read(ResultSet row) throws SQLException {
    return new Numbered(
        row.getLong(1),
        new AuditEntry(
            Instant.ofEpochMilli(row.getLong(2)),
            new Agent(Kind.valueOf(row.getString(3)), row.getString(4), present(row.getString(5))),
            row.getString(6),
            Action.valueOf(row.getString(7)),
            row.getString(8),
            present(row.getString(9)),
            present(row.getString(10)),
            row.getInt(11)));
  }

  private static Optional<String> present(String text) {
    return text.isEmpty() ? Optional.empty() : Optional.of(text);
  }
}
