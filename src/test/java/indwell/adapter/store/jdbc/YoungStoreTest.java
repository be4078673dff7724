package indwell.adapter.store.jdbc;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.postgres.PostgresStore;
import indwell.contract.TestPostgres;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
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
      assertThat(plan(statement, numbered(ResourceTable.OUTDATE))).contains("resource_version");
    }
  }

  private static String numbered(String sql) {
    return sql.replaceFirst("\\?", "\\$1").replaceFirst("\\?", "\\$2");
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
