package indwell.usecase;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.postgres.PostgresStore;
import indwell.adapter.store.sqlite.SqliteStore;
import indwell.contract.OlderSearchTables;
import indwell.contract.PlainFacility;
import indwell.contract.Satisfied;
import indwell.contract.TestPostgres;
import indwell.domain.event.Ward;
import indwell.domain.timeline.DayCount;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.port.ClinicalStore;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.function.Supplier;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Where the release before cut its times otherwise, the days are the same after the upgrade. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class TimesUpgradeTest {
  private static final Instant NOW = RandomBodies.START.plus(Duration.ofDays(60));
  private static final LocalDate FIRST = LocalDate.parse("2026-03-20");
  private static final LocalDate LAST = LocalDate.parse("2026-04-20");

  /** What the release before had in the place of V045, with a row that nothing explains. */
  private static final List<String> BEFORE =
      List.of(
          "DROP TABLE counted_time",
          "CREATE TABLE counted_time (patient_id TEXT NOT NULL, position INTEGER NOT NULL,"
              + " ward TEXT NOT NULL, with_catheter SMALLINT NOT NULL, start_at BIGINT NOT NULL,"
              + " end_at BIGINT NOT NULL, PRIMARY KEY (patient_id, position))",
          "CREATE INDEX counted_time_of_ward"
              + " ON counted_time (ward, end_at, start_at, with_catheter)",
          "INSERT INTO counted_time SELECT 'nobody', 0, min(ward), 1, 0, 4000000000000 FROM ward_span",
          "UPDATE whereabouts_index SET version = 1",
          "DELETE FROM flyway_schema_history WHERE version >= '045'");

  @TempDir Path folder;

  @Test
  void in_postgresql() throws SQLException {
    String url = TestPostgres.newDatabase();
    assertUpgraded(
        () -> PostgresStore.open(url, TestPostgres.USER, TestPostgres.PASSWORD),
        OlderSearchTables.INSTEAD,
        url + "?user=" + TestPostgres.USER + "&password=" + TestPostgres.PASSWORD);
  }

  @Test
  void in_sqlite() throws SQLException {
    Path data = folder.resolve("data");
    assertUpgraded(
        () -> SqliteStore.open(data),
        List.of(),
        "jdbc:sqlite:" + data.resolve("indwell.db").toAbsolutePath());
  }

  /**
   * @param since what else the release before had in the place of later scripts
   */
  private static void assertUpgraded(Supplier<ClinicalStore> store, List<String> since, String url)
      throws SQLException {
    SortedMap<Ward, SortedMap<LocalDate, DayCount>> before;
    try (ClinicalStore open = store.get()) {
      record(open);
      before = counts(open);
    }
    try (Connection connection = DriverManager.getConnection(url);
        Statement statement = connection.createStatement()) {
      for (String sql : Stream.concat(BEFORE.stream(), since.stream()).toList()) {
        statement.execute(sql);
      }
    }
    try (ClinicalStore open = store.get()) {
      new WhereaboutsIndex(open).bringUpToDate();
      assertThat(counts(open)).isEqualTo(before);
      assertThat(before.values().stream().flatMap(days -> days.values().stream()))
          .anyMatch(count -> count.catheterDays() > 0);
    }
  }

  private static void record(ClinicalStore store) {
    RecordEvents events =
        new RecordEvents(store, new Satisfied(), new MappingContext(ZoneOffset.UTC));
    for (String body : new RandomBodies(67).bodies()) {
      byte[] line = body.getBytes(StandardCharsets.UTF_8);
      var unused = events.record(EventBodies.line(line, NOW), NOW);
    }
  }

  private static SortedMap<Ward, SortedMap<LocalDate, DayCount>> counts(ClinicalStore store) {
    Facility utc = PlainFacility.in(ZoneOffset.UTC);
    return new DeviceDays(store, utc)
        .count(new DeviceDays.Question(Optional.empty(), FIRST, LAST), NOW)
        .fold(
            DeviceDays.Table::counts,
            issue -> {
              throw new AssertionError(issue.toString());
            });
  }
}
