package indwell.adapter.store.jdbc;

import indwell.port.StoredResource;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.Collection;
import java.util.List;

/** Table {@code resource_identifier}: the identifiers of the newest versions. */
record IdentifierTable(Sql sql) {
  private static final String FORGET = "DELETE FROM resource_identifier WHERE reference = ?";

  private static final String INSERT =
      "INSERT INTO resource_identifier (reference, system, value) VALUES (?, ?, ?)";

  private record Entry(String reference, String token) {}

  /**
   * Puts those of the last versions in the place of those of the versions before.
   *
   * @param resources of each the versions that are new, ascending
   */
  void replace(Collection<List<StoredResource>> resources) {
    List<StoredResource> known =
        resources.stream().map(all -> all.get(0)).filter(r -> r.version() > 1).toList();
    sql.batch(FORGET, known, (statement, r) -> statement.setString(1, r.key().reference()));
    List<Entry> entries =
        resources.stream()
            .map(all -> all.get(all.size() - 1))
            .flatMap(
                r -> r.identifiers().stream().map(token -> new Entry(r.key().reference(), token)))
            .distinct()
            .toList();
    sql.batch(INSERT, entries, IdentifierTable::bind);
  }

  private static void bind(PreparedStatement statement, Entry entry) throws SQLException {
    int bar = entry.token().indexOf('|');
    statement.setString(1, entry.reference());
    statement.setString(2, entry.token().substring(0, Math.max(bar, 0)));
    statement.setString(3, entry.token().substring(bar + 1));
  }
}
