package indwell.adapter.store.jdbc;

import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.Consumer;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/** Table {@code resource}: every version of every resource. */
record ResourceTable(Sql sql) {
  /** What a row is read from; a query goes on from here. */
  static final String COLUMNS =
      "SELECT r.reference, r.version, r.last_updated, r.patient_id, r.identifiers, r.json"
          + " FROM resource r";

  /**
   * Never "newest = 1" where a reference is looked up: without statistics, as in a young store,
   * PostgreSQL would walk along the whole index of newest versions, which begins with the patient.
   */
  static final String NEWEST = COLUMNS + " WHERE r.newest > 0 AND %s";

  /** A range of references, so that the index on them serves; '0' is the character after '/'. */
  private static final String LOCATIONS =
      NEWEST.formatted("r.reference > 'Location/' AND r.reference < 'Location0'");

  private static final String VERSION = COLUMNS + " WHERE r.reference = ? AND r.version = ?";

  private static final String HISTORY = COLUMNS + " WHERE r.reference = ? ORDER BY r.version DESC";

  static final String OUTDATE = "UPDATE resource SET newest = 0 WHERE newest > 0 AND reference";

  private static final String OUTDATED = " RETURNING reference, version";

  private static final Insert<Row> INSERT =
      Insert.<Row>into("resource")
          .text("reference", row -> row.resource().key().reference())
          .number("version", row -> row.resource().version())
          .number("newest", row -> row.newest() ? 1 : 0)
          .number("last_updated", row -> row.resource().lastUpdated().toEpochMilli())
          .text("patient_id", row -> row.resource().patientId())
          .text("identifiers", row -> TextList.join(row.resource().identifiers()))
          .text("json", row -> row.resource().json());

  List<StoredResource> newest(Collection<ResourceKey> keys) {
    List<StoredResource> newest = new ArrayList<>();
    sql.run(List.of(newest(sql.dialect(), keys, newest::add)));
    return newest;
  }

  /** Asks for the newest versions of resources. */
  static Step newest(Dialect dialect, Collection<ResourceKey> keys, Consumer<StoredResource> each) {
    List<String> references = keys.stream().map(ResourceKey::reference).distinct().toList();
    return Step.question(
        NEWEST.formatted(dialect.in("r.reference")),
        Step.listed(dialect, references),
        ResourceTable::read,
        each);
  }

  List<StoredResource> locations() {
    return sql.query(LOCATIONS, statement -> {}, ResourceTable::read);
  }

  List<StoredResource> version(ResourceKey key, int version) {
    return sql.query(
        VERSION,
        statement -> {
          statement.setString(1, key.reference());
          statement.setInt(2, version);
        },
        ResourceTable::read);
  }

  List<StoredResource> history(ResourceKey key) {
    return sql.query(
        HISTORY, statement -> statement.setString(1, key.reference()), ResourceTable::read);
  }

  /**
   * Makes the versions before those that are to be added the newest no more. Two transactions may
   * write the same ward; the one that comes second starts again.
   *
   * @param resources as {@link #added} takes them
   */
  static Step outdated(Dialect dialect, Collection<List<StoredResource>> resources) {
    Map<String, StoredResource> changed = new TreeMap<>();
    resources.stream()
        .map(all -> all.get(0))
        .filter(one -> one.version() > 1)
        .forEach(one -> changed.put(one.key().reference(), one));
    return new Step(
        dialect.in(OUTDATE) + OUTDATED,
        Step.listed(dialect, changed.keySet()),
        statement -> requireNewestBefore(changed, statement),
        changed.isEmpty());
  }

  private static void requireNewestBefore(
      Map<String, StoredResource> changed, PreparedStatement statement) throws SQLException {
    Map<String, StoredResource> without = new TreeMap<>(changed);
    try (ResultSet rows = statement.getResultSet()) {
      while (rows.next()) {
        String reference = rows.getString(1);
        int newest = rows.getInt(2);
        without.computeIfPresent(
            reference, (same, next) -> next.version() == newest + 1 ? null : next);
      }
    }
    for (StoredResource next : without.values()) {
      throw new Contention(
          new IllegalStateException(
              "Version %d of a %s does not follow its newest version."
                  .formatted(next.version(), next.key().type())));
    }
  }

  /**
   * Versions of different resources that are to be added.
   *
   * @param resources of each the versions that follow each other, ascending
   */
  static Insert.Rows<?> added(Collection<List<StoredResource>> resources) {
    return INSERT.rows(resources.stream().flatMap(ResourceTable::rows).toList());
  }

  private record Row(StoredResource resource, boolean newest) {}

  private static Stream<Row> rows(List<StoredResource> versions) {
    int last = versions.size() - 1;
    return IntStream.rangeClosed(0, last).mapToObj(i -> new Row(versions.get(i), i == last));
  }

  static StoredResource read(ResultSet row) throws SQLException {
    return new StoredResource(
        key(row.getString(1)),
        row.getInt(2),
        Instant.ofEpochMilli(row.getLong(3)),
        row.getString(4),
        TextList.split(row.getString(5)),
        row.getString(6));
  }

  static ResourceKey key(String reference) {
    int slash = reference.indexOf('/');
    return new ResourceKey(reference.substring(0, slash), reference.substring(slash + 1));
  }
}
