package indwell.contract;

import static indwell.contract.Samples.event;
import static indwell.contract.Samples.key;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import indwell.adapter.store.postgres.PostgresStore;
import indwell.port.ClinicalStore;
import indwell.port.StoreUnavailable;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import java.time.Duration;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What the store on a server survives, and what it refuses. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PostgresDurabilityTest {

  @Test
  void what_was_written_is_there_after_closing_and_opening() {
    String url = TestPostgres.newDatabase();
    try (ClinicalStore store = open(url)) {
      append(store);
    }
    try (ClinicalStore store = open(url)) {
      assertThat(Now.of(store).versionsOf(key("E-61"))).containsExactly(event("E-61", 1, "pat-91"));
    }
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 97})
  void every_acknowledged_event_survives_kill_9_of_the_service(int atLeast) throws Exception {
    String url = TestPostgres.newDatabase();
    int[] acknowledged;
    try (KillableWriter writer = KillableWriter.start("postgres", url)) {
      writer.awaitAcknowledged(atLeast);
      acknowledged = writer.kill();
    }
    try (ClinicalStore store = open(url)) {
      // The server may still be busy with the transaction of the client that is gone.
      await()
          .atMost(Duration.ofSeconds(10))
          .untilAsserted(() -> SurvivalChecks.allThere(store, acknowledged));
      SurvivalChecks.takesTheNext(store);
    }
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 97})
  void every_acknowledged_event_survives_kill_9_of_the_server(int atLeast) throws Exception {
    try (TestPostgres server = TestPostgres.start()) {
      String url = server.createDatabase();
      int[] acknowledged;
      try (KillableWriter writer = KillableWriter.start("postgres", url)) {
        writer.awaitAcknowledged(atLeast);
        server.kill();
        // A backend may outlive the postmaster for a moment; the writer must not.
        acknowledged = writer.kill();
      }
      server.resume();
      try (ClinicalStore store = open(url)) {
        SurvivalChecks.allThere(store, acknowledged);
        SurvivalChecks.takesTheNext(store);
      }
    }
  }

  @Test
  void a_stopped_server_is_told_and_a_new_start_is_noticed_by_itself() throws Exception {
    try (TestPostgres server = TestPostgres.start();
        ClinicalStore store = open(server.createDatabase())) {
      assertThat(store.available()).isTrue();
      server.stop();
      assertThat(store.available()).isFalse();
      assertThatThrownBy(() -> append(store)).isInstanceOf(StoreUnavailable.class);
      assertThatThrownBy(() -> Now.of(store).versionsOf(key("E-61")))
          .isInstanceOf(StoreUnavailable.class);
      server.resume();
      await().atMost(Duration.ofSeconds(10)).until(store::available);
      append(store);
      assertThat(Now.of(store).versionsOf(key("E-61"))).hasSize(1);
    }
  }

  @Test
  void no_server_is_told() {
    assertThatThrownBy(() -> open("jdbc:postgresql://127.0.0.1:1/none"))
        .isInstanceOf(StoreUnavailable.class)
        .hasMessage("The store is not available.");
  }

  @Test
  void a_server_that_may_lose_commits_is_refused() {
    try (TestPostgres server =
        TestPostgres.start("fsync=off", "full_page_writes=off", "synchronous_commit=off")) {
      assertThatThrownBy(() -> open(server.createDatabase()))
          .isInstanceOf(IllegalStateException.class)
          .hasMessage(
              "The PostgreSQL server does not keep what it commits: fsync is off, expected on;"
                  + " full_page_writes is off, expected on; synchronous_commit is off, expected"
                  + " on.");
    }
  }

  @Test
  void a_database_that_does_not_keep_every_character_is_refused() throws Exception {
    String url = TestPostgres.newDatabase();
    execute(url, "CREATE DATABASE latin TEMPLATE template0 ENCODING 'LATIN1'");
    assertThatThrownBy(() -> open(url.substring(0, url.lastIndexOf('/')) + "/latin"))
        .isInstanceOf(IllegalStateException.class)
        .hasMessage(
            "The PostgreSQL server does not keep what it commits: server_encoding is LATIN1,"
                + " expected UTF8.");
  }

  @Test
  void tables_of_a_newer_release_are_refused() throws Exception {
    String url = TestPostgres.newDatabase();
    open(url).close();
    execute(url, NewerRelease.MARK);
    assertThatThrownBy(() -> open(url))
        .isInstanceOf(IllegalStateException.class)
        .hasMessage(NewerRelease.REFUSAL);
  }

  @Test
  void a_failed_statement_does_not_quote_what_it_was_about() throws Exception {
    String url = TestPostgres.newDatabase();
    try (ClinicalStore store = open(url)) {
      execute(url, "ALTER TABLE event ADD CONSTRAINT none CHECK (patient_id = '')");
      assertThatThrownBy(() -> append(store))
          .isInstanceOf(IllegalStateException.class)
          .hasStackTraceContaining("violates check constraint")
          .satisfies(
              e ->
                  assertThat(org.assertj.core.util.Throwables.getStackTrace(e))
                      .doesNotContain("pat-91", "E-61"));
    }
  }

  private static ClinicalStore open(String url) {
    return PostgresStore.open(url, TestPostgres.USER, TestPostgres.PASSWORD);
  }

  private static void execute(String url, String sql) throws Exception {
    try (Connection connection =
            DriverManager.getConnection(url, TestPostgres.USER, TestPostgres.PASSWORD);
        Statement statement = connection.createStatement()) {
      statement.execute(sql);
    }
  }

  private static void append(ClinicalStore store) {
    store.write(
        w -> {
          w.append(event("E-61", 1, "pat-91"));
          return true;
        });
  }
}
