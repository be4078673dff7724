package indwell.adapter.store.jdbc;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.postgres.PostgresStore;
import indwell.contract.Satisfied;
import indwell.contract.TestPostgres;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.intake.Outcome;
import indwell.intake.Reading;
import indwell.port.ClinicalStore;
import indwell.usecase.RandomBodies;
import indwell.usecase.RecordEvents;
import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.Map;
import java.util.TreeMap;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * A store of which PostgreSQL has no statistics yet. Intake looked references up in the index of
 * newest versions, whose second column they are: it was read from end to end, and an event cost
 * three times as much.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class YoungStoreTest {
  private static final Instant NOW = RandomBodies.START.plus(Duration.ofDays(20));

  private static final String FILL =
      "INSERT INTO resource (reference, version, newest, last_updated, patient_id, identifiers,"
          + " json) SELECT 'Procedure/' || md5(n::text), 1, 1, n, md5(n::text), '', repeat('x', 900)"
          + " FROM generate_series(1, 40) n";

  @Test
  void a_resource_is_looked_up_by_its_reference() throws SQLException {
    String url = TestPostgres.newDatabase();
    PostgresStore.open(url, TestPostgres.USER, TestPostgres.PASSWORD).close();
    try (Connection connection =
            DriverManager.getConnection(
                url + "?preferQueryMode=simple", TestPostgres.USER, TestPostgres.PASSWORD);
        Statement statement = connection.createStatement()) {
      statement.execute("ALTER TABLE resource SET (autovacuum_enabled = false)");
      statement.execute(FILL);
      assertThat(plan(statement, ResourceTable.NEWEST.formatted("r.reference = ANY ($1)")))
          .contains("resource_version");
      assertThat(plan(statement, "SELECT * FROM resource r WHERE r.newest = 1"))
          .as("the index that would be read from end to end")
          .contains("resource_of_patient");
      assertThat(plan(statement, ResourceTable.OUTDATE + " = ANY ($1)"))
          .contains("resource_version");
    }
  }

  /** What the server knows are tables of a few rows, and what it has planned stays as it is. */
  @Test
  void intake_reads_no_table_through() throws SQLException {
    String url = TestPostgres.newDatabase();
    record(url, 1);
    try (Connection connection =
            DriverManager.getConnection(url, TestPostgres.USER, TestPostgres.PASSWORD);
        Statement statement = connection.createStatement()) {
      statement.execute("ANALYZE");
    }
    Map<String, Long> before = readThrough(url);
    assertThat(before).containsKeys("event", "resource", "found_by", "ward_span");
    record(url, 4);
    assertThat(readThrough(url)).isEqualTo(before);
  }

  private static void record(String url, int histories) {
    try (ClinicalStore store = PostgresStore.open(url, TestPostgres.USER, TestPostgres.PASSWORD)) {
      RecordEvents recorder =
          new RecordEvents(store, new Satisfied(), new MappingContext(ZoneOffset.UTC));
      for (int seed = 1; seed <= histories; seed++) {
        for (String body : new RandomBodies(seed).bodies()) {
          Reading read = EventBodies.line(body.getBytes(StandardCharsets.UTF_8), NOW);
          assertThat(recorder.record(read, NOW).outcome()).isNotEqualTo(Outcome.FAILED);
        }
      }
    }
  }

  /**
   * How often the server has read each table from end to end; it counts a connection's statements
   * when that has ended. The table of migrations is read at each start.
   */
  private static Map<String, Long> readThrough(String url) throws SQLException {
    Map<String, Long> times = new TreeMap<>();
    try (Connection connection =
            DriverManager.getConnection(url, TestPostgres.USER, TestPostgres.PASSWORD);
        Statement statement = connection.createStatement()) {
      awaitAlone(statement);
      try (ResultSet rows =
          statement.executeQuery(
              "SELECT relname, seq_scan FROM pg_stat_user_tables WHERE relname NOT LIKE 'flyway%'")) {
        while (rows.next()) {
          times.put(rows.getString(1), rows.getLong(2));
        }
      }
    }
    return times;
  }

  private static void awaitAlone(Statement statement) throws SQLException {
    boolean alone = false;
    while (!alone) {
      try (ResultSet others =
          statement.executeQuery(
              "SELECT count(*) FROM pg_stat_activity WHERE datname = current_database()"
                  + " AND backend_type = 'client backend' AND pid <> pg_backend_pid()")) {
        alone = others.next() && others.getLong(1) == 0;
      }
    }
  }

  /** As for a statement that was prepared, whatever its parameters. */
  private static String plan(Statement statement, String sql) throws SQLException {
    try (ResultSet rows = statement.executeQuery("EXPLAIN (GENERIC_PLAN) " + sql)) {
      StringBuilder plan = new StringBuilder();
      while (rows.next()) {
        plan.append(rows.getString(1)).append('\n');
      }
      return plan.toString();
    }
  }
}
