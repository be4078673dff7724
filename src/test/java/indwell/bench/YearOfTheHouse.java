package indwell.bench;

import indwell.domain.timeline.DayCount;
import indwell.port.ClinicalStore;
import indwell.usecase.DeviceDays;
import indwell.usecase.Facility;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;

/**
 * The device days of all wards in a year, against one statement each in PostgreSQL and in DuckDB
 * over the same times. All three have to count the same.
 */
final class YearOfTheHouse {
  private static final int TRIES = 15;
  private static final int DAYS = 365;
  private static final List<String> FACTS = List.of("ward_span", "catheter_span");

  /** Each time in a ward is laid out as its count times, and each looked up among the catheters. */
  private static final String IN_POSTGRES =
      """
      SELECT s.ward, d.n, count(*), count(c.patient_id)
      FROM ward_span s
      CROSS JOIN LATERAL generate_series(
        greatest(0, ceil((s.start_at - %1$d) / 86400000.0)::bigint),
        least(%2$d, ceil((s.end_at - %1$d) / 86400000.0)::bigint - 1)) AS d (n)
      LEFT JOIN catheter_span c ON c.patient_id = s.patient_id
        AND c.start_at <= %1$d + d.n * 86400000::BIGINT AND c.end_at > %1$d + d.n * 86400000::BIGINT
      WHERE s.inpatient = 1 AND s.start_at <= %1$d + %2$d * 86400000::BIGINT AND s.end_at > %1$d
      GROUP BY s.ward, d.n
      """;

  private static final String IN_DUCKDB =
      """
      SELECT d.ward, d.n, count(*), count(c.patient_id)
      FROM (
        SELECT patient_id, ward, unnest(range(
          greatest(0, ceil((start_at - %1$d) / 86400000.0)::BIGINT),
          least(%2$d + 1, ceil((end_at - %1$d) / 86400000.0)::BIGINT))) AS n
        FROM ward_span
        WHERE inpatient = 1 AND start_at <= %1$d + %2$d * 86400000::BIGINT AND end_at > %1$d) AS d
      LEFT JOIN catheter_span c ON c.patient_id = d.patient_id
        AND c.start_at <= %1$d + d.n * 86400000::BIGINT AND c.end_at > %1$d + d.n * 86400000::BIGINT
      GROUP BY d.ward, d.n
      """;

  private final PlainPostgres plain;
  private final Facility facility;
  private final LocalDate first;
  private final LocalDate last;

  YearOfTheHouse(PlainPostgres plain, Facility facility, Instant end) {
    this.plain = plain;
    this.facility = facility;
    this.last = end.atZone(ZoneOffset.UTC).toLocalDate().minusDays(1);
    this.first = last.minusDays(DAYS - 1L);
  }

  List<Row> rows(ClinicalStore store, Instant now, String history) throws SQLException {
    DeviceDays days = new DeviceDays(store, facility);
    DeviceDays.Question question = new DeviceDays.Question(Optional.empty(), first, last);
    long begin = System.nanoTime();
    DayCount ours = sum(days, question, now);
    System.out.printf(
        "first answer about all wards and a year: %.0f ms%n", (System.nanoTime() - begin) / 1e6);
    double seconds = Stopwatch.fastest(TRIES, () -> days.count(question, now));
    double postgres;
    try (Connection connection = plain.open()) {
      postgres = reference(connection, IN_POSTGRES, ours);
    }
    double duckdb;
    try (Connection connection = DriverManager.getConnection("jdbc:duckdb:")) {
      load(connection);
      duckdb = reference(connection, IN_DUCKDB, ours);
    }
    String what = "$device-days, all wards and a year, " + history;
    String unit = "answers/s";
    return List.of(
        new Row(what, 1 / seconds, "one statement in PostgreSQL", 1 / postgres, unit, 1),
        new Row(what, 1 / seconds, "one statement in DuckDB", 1 / duckdb, unit, 1));
  }

  private static DayCount sum(DeviceDays days, DeviceDays.Question question, Instant now) {
    return days.count(question, now)
        .fold(
            table ->
                table.counts().values().stream()
                    .flatMap(ward -> ward.values().stream())
                    .reduce(DayCount.NONE, DayCount::plus),
            issue -> {
              throw new IllegalStateException("Refused: " + issue);
            });
  }

  private double reference(Connection connection, String statement, DayCount expected) {
    long origin = first.atStartOfDay().toInstant(ZoneOffset.UTC).toEpochMilli();
    String sql = statement.formatted(origin, DAYS - 1);
    if (!counted(connection, sql).equals(expected)) {
      throw new IllegalStateException("The statement counts otherwise than " + expected);
    }
    return Stopwatch.fastest(TRIES, () -> counted(connection, sql));
  }

  private static DayCount counted(Connection connection, String sql) {
    try (PreparedStatement statement = connection.prepareStatement(sql);
        ResultSet rows = statement.executeQuery()) {
      DayCount sum = DayCount.NONE;
      while (rows.next()) {
        sum = sum.plus(new DayCount(rows.getLong(3), rows.getLong(4)));
      }
      return sum;
    } catch (SQLException e) {
      throw new IllegalStateException(e);
    }
  }

  private void load(Connection duckdb) throws SQLException {
    for (String table : FACTS) {
      Path file = csv(table);
      try (Statement statement = duckdb.createStatement()) {
        statement.execute(
            "CREATE TABLE " + table + " AS SELECT * FROM read_csv('" + file + "', header = true)");
      }
    }
  }

  private Path csv(String table) {
    try {
      Path file = Files.createTempFile("indwell-bench-", ".csv");
      try (Writer out = Files.newBufferedWriter(file)) {
        plain.copyOut("COPY " + table + " TO STDOUT (FORMAT csv, HEADER)", out);
      }
      return file;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
