package indwell.adapter.store.jdbc;

import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Agent;
import indwell.port.AuditEntry.Interaction;
import indwell.port.AuditEntry.Kind;
import indwell.port.AuditEntry.Origin;
import indwell.port.Audited;
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

  private static final Insert<AuditEntry> INSERT =
      Insert.<AuditEntry>into("audit")
          .number("at", entry -> entry.at().toEpochMilli())
          .text("kind", entry -> agent(entry).kind().name())
          .text("client", entry -> agent(entry).client())
          .text("person", entry -> agent(entry).user().orElse(""))
          .text("roles", entry -> String.join(" ", agent(entry).roles()))
          .text("address", entry -> entry.origin().address())
          .text("interaction", entry -> entry.interaction().name())
          .text("place", entry -> entry.origin().place())
          .text("entity", entry -> entry.entity().orElse(""))
          .text("patient", entry -> entry.patient().orElse(""))
          .text("query", AuditEntry::query)
          .number("status", AuditEntry::status)
          .text("reason", entry -> entry.reason().orElse(""))
          .text("outcome", entry -> entry.outcome().code());

  /** Rows for {@link #read}. */
  static final String COLUMNS =
      "SELECT a.number, a." + NAMES.replace(", ", ", a.") + " FROM audit a";

  private final Sql sql;

  AuditTable(Sql sql) {
    this.sql = sql;
  }

  void add(Collection<AuditEntry> entries) {
    sql.insert(added(entries));
  }

  /** Entries that are to be added together with other rows. */
  static Insert.Rows<AuditEntry> added(Collection<AuditEntry> entries) {
    return INSERT.rows(entries);
  }

  private static Agent agent(AuditEntry entry) {
    return entry.origin().agent();
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
