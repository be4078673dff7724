package indwell.contract;

import static indwell.contract.Samples.resource;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.postgres.PostgresStore;
import indwell.fhir.search.SearchValue;
import indwell.fhir.search.SearchValue.Coded;
import indwell.fhir.search.SearchValue.Dated;
import indwell.port.ClinicalStore;
import indwell.port.ResourceQuery;
import indwell.port.SearchCondition.Code;
import indwell.port.SearchCondition.HasCode;
import indwell.port.SearchOrder;
import indwell.port.StoredResource;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** A database of the release before is brought up to date with all that is in it. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PostgresUpgradeTest {
  /**
   * What the release before V043 had of a resource that is found by {@link #FOUND_BY}, and of one
   * that has an identifier only.
   */
  private static final String BEFORE =
      String.join(";", OlderSearchTables.INSTEAD)
          + ";INSERT INTO resource_identifier VALUES ('Procedure/p-23', 'urn:x', 'A-31'),"
          + " ('Procedure/p-59', '', 'A=\"61\"');"
          + "INSERT INTO search_code VALUES ('Procedure/p-23', 'status', 'urn:s', 'completed'),"
          + " ('Procedure/p-23', 'focal-device', '', 'Device/d-37');"
          + "INSERT INTO search_time VALUES ('Procedure/p-23', 'date', 41, 43),"
          + " ('Procedure/p-23', 'recorded', 59, 61);"
          + "DELETE FROM flyway_schema_history WHERE version >= '043'";

  private static final StoredResource FIRST =
      resource("Procedure", "p-23", 1, "pat-29", "urn:x|A-31");

  private static final List<SearchValue> FOUND_BY =
      List.of(
          new Coded("status", "urn:s", "completed"),
          new Coded("focal-device", "", "Device/d-37"),
          new Dated("date", 41, 43),
          new Dated("recorded", 59, 61));

  private static final StoredResource BARE =
      resource("Procedure", "p-59", 1, "pat-29", "|A=\"61\"");

  @Test
  void what_was_found_is_found_and_what_replaces_it_is_found_instead() throws SQLException {
    String url = TestPostgres.newDatabase();
    try (ClinicalStore store = open(url)) {
      write(store, FIRST, FOUND_BY);
      write(store, BARE, List.of());
    }
    List<String> expected = rows(url, "SELECT f::text FROM found_by f ORDER BY reference");
    assertThat(expected).hasSize(2);
    rows(url, BEFORE);
    try (ClinicalStore store = open(url)) {
      assertThat(rows(url, "SELECT f::text FROM found_by f ORDER BY reference"))
          .isEqualTo(expected);
      assertThat(found(store, "urn:x|A-31", "Device/d-37")).containsExactly(FIRST);
      StoredResource second = resource("Procedure", "p-23", 2, "pat-29", "urn:x|A-47");
      write(store, second, List.of(new Coded("focal-device", "", "Device/d-53")));
      assertThat(found(store, "urn:x|A-31", "Device/d-37")).isEmpty();
      assertThat(found(store, "urn:x|A-47", "Device/d-53")).containsExactly(second);
      assertThat(rows(url, "SELECT low FROM search_time")).isEmpty();
    }
  }

  private static void write(ClinicalStore store, StoredResource one, List<SearchValue> foundBy) {
    store.write(
        tx -> {
          tx.put(one);
          tx.findBy(one, foundBy);
          return true;
        });
  }

  private static List<StoredResource> found(ClinicalStore store, String identifier, String device) {
    Code code = new Code(Optional.empty(), Optional.of(device));
    return store.read(
        state ->
            state.search(
                new ResourceQuery(
                    "Procedure",
                    Set.of(),
                    Set.of(identifier),
                    Set.of(),
                    List.of(new HasCode("focal-device", List.of(code), false)),
                    SearchOrder.BY_ID,
                    Optional.empty(),
                    1000)));
  }

  private static ClinicalStore open(String url) {
    return PostgresStore.open(url, TestPostgres.USER, TestPostgres.PASSWORD);
  }

  /** The first column of what the statement gives, if it gives rows. */
  private static List<String> rows(String url, String sql) throws SQLException {
    List<String> rows = new ArrayList<>();
    try (Connection connection =
            DriverManager.getConnection(url, TestPostgres.USER, TestPostgres.PASSWORD);
        Statement statement = connection.createStatement()) {
      if (statement.execute(sql)) {
        ResultSet all = statement.getResultSet();
        while (all.next()) {
          rows.add(all.getString(1));
        }
      }
    }
    return rows;
  }
}
