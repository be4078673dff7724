package indwell.contract;

import static indwell.contract.Samples.event;
import static indwell.contract.Samples.key;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.adapter.store.sqlite.SqliteStore;
import indwell.port.ClinicalStore;
import indwell.port.StoreUnavailable;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.Statement;
import java.util.Arrays;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What the embedded store survives, and what it refuses. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class SqliteDurabilityTest {
  @TempDir Path folder;

  @Test
  void what_was_written_is_there_after_closing_and_opening() {
    try (ClinicalStore store = SqliteStore.open(folder)) {
      append(store);
    }
    try (ClinicalStore store = SqliteStore.open(folder)) {
      assertThat(Now.of(store).versionsOf(key("E-51"))).containsExactly(event("E-51", 1, "pat-91"));
    }
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 40, 233})
  void every_acknowledged_event_survives_kill_9(int acknowledgedAtLeast) throws Exception {
    int[] acknowledged;
    try (KillableWriter writer = KillableWriter.start("sqlite", folder.toString())) {
      writer.awaitAcknowledged(acknowledgedAtLeast);
      acknowledged = writer.kill();
    }
    try (ClinicalStore store = SqliteStore.open(folder)) {
      SurvivalChecks.allThere(store, acknowledged);
      SurvivalChecks.takesTheNext(store);
    }
  }

  @Test
  void a_full_disk_is_told_and_loses_nothing() throws Exception {
    int[] acknowledged;
    try (KillableWriter writer =
        KillableWriter.startWithFilesUpTo(2048, "sqlite", folder.toString())) {
      acknowledged = writer.awaitEnd();
      assertThat(writer.metUnavailable()).isTrue();
    }
    assertThat(Arrays.stream(acknowledged).sum()).isGreaterThan(10);
    try (ClinicalStore store = SqliteStore.open(folder)) {
      SurvivalChecks.allThere(store, acknowledged);
      SurvivalChecks.takesTheNext(store);
    }
  }

  @Test
  void a_folder_that_cannot_be_made_is_not_available() throws Exception {
    Path file = Files.createFile(folder.resolve("file"));
    assertThatThrownBy(() -> SqliteStore.open(file.resolve("data")))
        .isInstanceOf(StoreUnavailable.class)
        .hasMessage("The data folder cannot be used.");
  }

  @Test
  void a_folder_in_use_is_refused_until_it_is_closed() {
    try (ClinicalStore first = SqliteStore.open(folder)) {
      assertThat(first.available()).isTrue();
      assertThatThrownBy(() -> SqliteStore.open(folder))
          .isInstanceOf(IllegalStateException.class)
          .hasMessage("Another process uses the data folder " + folder + ".");
    }
    SqliteStore.open(folder).close();
  }

  @Test
  void a_database_deleted_under_the_service_is_not_available() throws Exception {
    try (ClinicalStore store = SqliteStore.open(folder)) {
      Files.delete(folder.resolve("indwell.db"));
      assertThat(store.available()).isFalse();
    }
  }

  @Test
  void a_database_locked_by_somebody_else_is_not_available() throws Exception {
    try (ClinicalStore store = SqliteStore.open(folder);
        Connection other = raw();
        Statement statement = other.createStatement()) {
      statement.execute("BEGIN EXCLUSIVE");
      assertThatThrownBy(() -> append(store)).isInstanceOf(StoreUnavailable.class);
      statement.execute("ROLLBACK");
      append(store);
      assertThat(store.available()).isTrue();
    }
  }

  @Test
  void tables_of_a_newer_release_are_refused() throws Exception {
    SqliteStore.open(folder).close();
    try (Connection connection = raw();
        Statement statement = connection.createStatement()) {
      statement.execute(NewerRelease.MARK);
    }
    assertThatThrownBy(() -> SqliteStore.open(folder))
        .isInstanceOf(IllegalStateException.class)
        .hasMessage(NewerRelease.REFUSAL);
  }

  @Test
  void commits_are_flushed_to_the_disk() throws Exception {
    try (ClinicalStore store = SqliteStore.open(folder)) {
      assertThat(store.available()).isTrue();
      try (Connection connection = raw();
          Statement statement = connection.createStatement();
          ResultSet mode = statement.executeQuery("PRAGMA journal_mode")) {
        assertThat(mode.getString(1)).isEqualTo("wal");
      }
    }
  }

  private Connection raw() throws Exception {
    return DriverManager.getConnection("jdbc:sqlite:" + folder.resolve("indwell.db"));
  }

  private static void append(ClinicalStore store) {
    store.write(
        w -> {
          w.append(event("E-51", 1, "pat-91"));
          return true;
        });
  }
}
