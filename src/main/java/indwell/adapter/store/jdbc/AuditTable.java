package indwell.adapter.store.jdbc;

import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Agent;
import indwell.port.AuditEntry.Interaction;
import indwell.port.AuditEntry.Kind;
import indwell.port.AuditEntry.Origin;
import indwell.port.Audited;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Optional;

/** Table {@code audit}. */
final class AuditTable {
  private static final String NAMES =
      "at, kind, client, person, roles, address, interaction, place, entity, patient, query,"
          + " status, reason, outcome";

  private static final String INSERT =
      "INSERT INTO audit (" + NAMES + ") VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)";

  /** Rows for {@link #read}. */
  static final String COLUMNS =
      "SELECT a.number, a." + NAMES.replace(", ", ", a.") + " FROM audit a";

  private final Sql sql;

  AuditTable(Sql sql) {
    this.sql = sql;
  }

  void add(Collection<AuditEntry> entries) {
    sql.batch(INSERT, entries, AuditTable::bind);
  }

  private static void bind(PreparedStatement statement, AuditEntry entry) throws SQLException {
    Agent agent = entry.origin().agent();
    statement.setLong(1, entry.at().toEpochMilli());
    statement.setString(2, agent.kind().name());
    statement.setString(3, agent.client());
    statement.setString(4, agent.user().orElse(""));
    statement.setString(5, String.join(" ", agent.roles()));
    statement.setString(6, entry.origin().address());
    statement.setString(7, entry.interaction().name());
    statement.setString(8, entry.origin().place());
    statement.setString(9, entry.entity().orElse(""));
    statement.setString(10, entry.patient().orElse(""));
    statement.setString(11, entry.query());
    statement.setInt(12, entry.status());
    statement.setString(13, entry.reason().orElse(""));
    statement.setString(14, entry.outcome().code());
  }

  static Audited read(ResultSet row) throws SQLException {
    return new Audited(
        row.getLong(1),
        new AuditEntry(
            Instant.ofEpochMilli(row.getLong(2)),
            new Origin(
                new Agent(
                    Kind.valueOf(row.getString(3)),
                    row.getString(4),
                    present(row.getString(5)),
                    words(row.getString(6))),
                row.getString(7),
                row.getString(9)),
            Interaction.valueOf(row.getString(8)),
            present(row.getString(10)),
            present(row.getString(11)),
            row.getString(12),
            row.getInt(13),
            present(row.getString(14))));
  }

  private static Optional<String> present(String text) {
    return text.isEmpty() ? Optional.empty() : Optional.of(text);
  }

  private static List<String> words(String text) {
    return text.isEmpty() ? List.of() : Arrays.asList(text.split(" ", -1));
  }
}
