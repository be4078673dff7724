package indwell.adapter.store.jdbc;

import indwell.port.StoredResource;
import java.util.Collection;
import java.util.List;

/** Table {@code resource_identifier}: the identifiers of the newest versions. */
record IdentifierTable(Sql sql) {
  private static final Insert<Entry> INSERT =
      Insert.<Entry>into("resource_identifier")
          .text("reference", Entry::reference)
          .text("system", Entry::system)
          .text("value", Entry::value);

  private record Entry(String reference, String token) {
    private int bar() {
      return token.indexOf('|');
    }

    private String system() {
      return token.substring(0, Math.max(bar(), 0));
    }

    private String value() {
      return token.substring(bar() + 1);
    }
  }

  /**
   * Those of the last versions, which are to be added; those of the versions before are gone.
   *
   * @param resources of each the versions that are new, ascending
   */
  Insert.Rows<?> replaced(Collection<List<StoredResource>> resources) {
    List<String> known =
        resources.stream()
            .map(all -> all.get(0))
            .filter(r -> r.version() > 1)
            .map(r -> r.key().reference())
            .toList();
    sql.delete("resource_identifier WHERE reference", known);
    List<Entry> entries =
        resources.stream()
            .map(all -> all.get(all.size() - 1))
            .flatMap(
                r -> r.identifiers().stream().map(token -> new Entry(r.key().reference(), token)))
            .distinct()
            .toList();
    return INSERT.rows(entries);
  }
}
