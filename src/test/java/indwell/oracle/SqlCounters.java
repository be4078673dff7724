package indwell.oracle;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.UnaryOperator;
import org.duckdb.DuckDBAppender;
import org.duckdb.DuckDBConnection;

/**
 * Both day counters as set-based SQL over the facts as they were sent (see {@code
 * indwell/oracle/*.sql}, written from section 4 of the contract). Java only fills the tables of
 * {@code 00-facts.sql} and reads the results. One run serves many histories.
 */
final class SqlCounters implements AutoCloseable {
  private static final List<String> SCRIPTS =
      List.of(
          "10-events.sql",
          "20-stays.sql",
          "30-catheters.sql",
          "40-denominator.sql",
          "50-eligibility.sql");
  private static final int MARGIN_DAYS = 40;

  private final DuckDBConnection connection;
  private final List<String> statements = new ArrayList<>();
  private final Set<List<Object>> known = new HashSet<>();

  SqlCounters() {
    this(UnaryOperator.identity());
  }

  /**
   * With the scripts changed.
   *
   * @param change is given each script's text
   */
  SqlCounters(UnaryOperator<String> change) {
    try {
      connection = (DuckDBConnection) DriverManager.getConnection("jdbc:duckdb:");
      run(script("00-facts.sql"));
      run("SET threads = 2");
    } catch (SQLException e) {
      throw new IllegalStateException(e);
    }
    SCRIPTS.forEach(name -> statements.add(change.apply(script(name))));
  }

  /** The answers to each history, in their order. */
  List<Answers> count(List<History> histories) {
    try {
      run(
          "DELETE FROM fact; DELETE FROM facility; DELETE FROM ward_count_time; DELETE FROM question");
      fill(histories);
      for (String statement : statements) {
        run(statement);
      }
      return answers(histories.size());
    } catch (SQLException e) {
      throw new IllegalStateException(e);
    }
  }

  private void fill(List<History> histories) throws SQLException {
    try (Rows facts = new Rows("fact");
        Rows facilities = new Rows("facility");
        Rows wards = new Rows("ward_count_time");
        Rows questions = new Rows("question");
        Rows calendar = new Rows("calendar");
        Rows clock = new Rows("clock")) {
      for (int id = 0; id < histories.size(); id++) {
        History history = histories.get(id);
        for (Fact fact : history.arrivals()) {
          fill(facts, id, fact);
        }
        facilities.add(
            id,
            history.zone().getId(),
            history.countTime().toString(),
            history.firstDate(),
            history.lastDate());
        for (Map.Entry<String, LocalTime> ward : history.wardCountTimes().entrySet()) {
          wards.add(id, ward.getKey(), ward.getValue().toString());
          fillClock(clock, history, ward.getValue());
        }
        fillClock(clock, history, history.countTime());
        fillCalendar(calendar, history);
        for (History.Question asked : history.questions()) {
          questions.add(id, asked.patient(), asked.asOf().toEpochMilli());
        }
      }
    }
  }

  private static void fill(Rows facts, int id, Fact fact) throws SQLException {
    Fact.Deed deed = fact.deed();
    facts.add(
        id,
        fact.source(),
        fact.eventId(),
        fact.version(),
        fact.withdrawn(),
        deed.type(),
        fact.at().toEpochMilli(),
        fact.patient(),
        fact.encounter(),
        deed.ward(),
        deed.inpatient(),
        deed.withCatheter(),
        deed.catheter(),
        deed.replacement(),
        deed.route(),
        deed.drainage(),
        deed.beforeAdmission());
  }

  private void fillCalendar(Rows calendar, History history) throws SQLException {
    ZoneId zone = history.zone();
    for (LocalDate date : dates(history)) {
      if (known.add(List.of(zone, date))) {
        calendar.add(
            zone.getId(),
            date,
            ZoneFacts.startOf(date, zone).toEpochMilli(),
            ZoneFacts.startOf(date.plusDays(1), zone).toEpochMilli());
      }
    }
  }

  private void fillClock(Rows clock, History history, LocalTime time) throws SQLException {
    ZoneId zone = history.zone();
    for (LocalDate date : dates(history)) {
      if (known.add(List.of(zone, time, date))) {
        clock.add(
            zone.getId(), time.toString(), date, ZoneFacts.when(date, time, zone).toEpochMilli());
      }
    }
  }

  private static List<LocalDate> dates(History history) {
    return history
        .firstDate()
        .minusDays(MARGIN_DAYS)
        .datesUntil(history.lastDate().plusDays(MARGIN_DAYS))
        .toList();
  }

  private List<Answers> answers(int histories) throws SQLException {
    List<Answers> answers = new ArrayList<>();
    for (int id = 0; id < histories; id++) {
      answers.add(new Answers());
    }
    read(
        "SELECT case_id, ward, date::VARCHAR, patient_days, catheter_days FROM denominator",
        row ->
            answers
                .get(row.getInt(1))
                .denominator(row.getString(2), row.getString(3), row.getLong(4), row.getLong(5)));
    read(
        "SELECT case_id, patient, as_of, date::VARCHAR, number, present, eligible, ward"
            + " FROM eligibility",
        row ->
            answers
                .get(row.getInt(1))
                .date(
                    asked(row),
                    row.getString(4),
                    (Number) row.getObject(5),
                    row.getBoolean(6),
                    row.getBoolean(7),
                    row.getString(8)));
    read(
        "SELECT case_id, patient, as_of, since, catheter_day FROM longest_standing",
        row ->
            answers
                .get(row.getInt(1))
                .longestStanding(
                    asked(row),
                    Instant.ofEpochMilli(row.getLong(4)).toString(),
                    (Number) row.getObject(5)));
    return answers;
  }

  private static History.Question asked(ResultSet row) throws SQLException {
    return new History.Question(row.getString(2), Instant.ofEpochMilli(row.getLong(3)));
  }

  /** Runs one query of a test's own. */
  void read(String query, RowReader reader) throws SQLException {
    try (Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery(query)) {
      while (rows.next()) {
        reader.read(rows);
      }
    }
  }

  private void run(String sql) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      statement.execute(sql);
    }
  }

  private static String script(String name) {
    try (InputStream text = SqlCounters.class.getResourceAsStream("/indwell/oracle/" + name)) {
      return new String(text.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  @Override
  public void close() {
    try {
      connection.close();
    } catch (SQLException e) {
      throw new IllegalStateException(e);
    }
  }

  /** Takes one row of a result. */
  @FunctionalInterface
  interface RowReader {
    void read(ResultSet row) throws SQLException;
  }

  /** Rows for one table. */
  private final class Rows implements AutoCloseable {
    private final DuckDBAppender appender;

    Rows(String table) throws SQLException {
      appender = connection.createAppender(DuckDBConnection.DEFAULT_SCHEMA, table);
    }

    void add(Object... values) throws SQLException {
      appender.beginRow();
      for (Object value : values) {
        if (value == null) {
          appender.appendNull();
        } else if (value instanceof Integer number) {
          appender.append(number.intValue());
        } else if (value instanceof Long number) {
          appender.append(number.longValue());
        } else if (value instanceof Boolean truth) {
          appender.append(truth.booleanValue());
        } else if (value instanceof LocalDate date) {
          appender.append(date);
        } else {
          appender.append(value.toString());
        }
      }
      appender.endRow();
    }

    @Override
    public void close() throws SQLException {
      appender.close();
    }
  }
}
