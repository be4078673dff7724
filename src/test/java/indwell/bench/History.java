package indwell.bench;

import indwell.adapter.store.postgres.PostgresStore;
import indwell.contract.TestPostgres;
import indwell.port.ClinicalStore;
import java.io.BufferedReader;
import java.io.StringReader;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.postgresql.PGConnection;
import org.postgresql.copy.CopyIn;

/**
 * Long histories, written straight into the tables in the form in which intake writes them: one
 * period goes through intake, and its rows are repeated with other numbers, ids and days. {@link
 * #requireEqual} holds the rows against those of intake.
 */
final class History {
  /** After all episodes of a million. */
  static final Instant RECORDED = Instant.parse("2025-12-31T12:00:00Z");

  /** Tables that questions about days and flags read. */
  static final List<String> FACTS = List.of("event", "ward_span", "catheter_span", "counted_time");

  static final List<String> ALL =
      List.of("event", "ward_span", "catheter_span", "counted_time", "resource", "found_by");

  /** What shows whether rows are those of intake; in the lists of one table their order is free. */
  private static final List<String> COMPARED =
      List.of(
          "event",
          "ward_span",
          "catheter_span",
          "counted_time",
          "resource",
          "resource_identifier",
          "search_code",
          "search_time");

  private static final int CHUNK = 1 << 20;

  private record Table(String columns, HistoryTemplate template) {}

  private final Map<String, Table> tables = new LinkedHashMap<>();

  /** Takes one period through intake. */
  History() {
    PlainPostgres plain = intake(House.PERIOD);
    for (String table : ALL) {
      String columns =
          String.join(
              ",",
              plain.texts(
                  "SELECT column_name FROM information_schema.columns WHERE table_name = '"
                      + table
                      + "' AND column_name <> 'change' ORDER BY ordinal_position"));
      tables.put(table, new Table(columns, template(plain, table, columns)));
    }
  }

  /** A database into which so many episodes went through intake. */
  static PlainPostgres intake(int episodes) {
    PlainPostgres plain = new PlainPostgres(TestPostgres.newDatabase());
    try (ClinicalStore store = open(plain)) {
      Filling.fill(store, 0, episodes, RECORDED);
    }
    return plain;
  }

  static ClinicalStore open(PlainPostgres plain) {
    return PostgresStore.open(plain.url(), TestPostgres.USER, TestPostgres.PASSWORD);
  }

  private static HistoryTemplate template(PlainPostgres plain, String table, String columns) {
    HistoryTemplate template =
        new HistoryTemplate(RECORDED.atZone(ZoneOffset.UTC).toLocalDate(), House.PERIOD);
    List<String> names = List.of(columns.split(","));
    StringWriter rows = new StringWriter();
    String order = table.equals("resource") ? " ORDER BY change" : "";
    plain.copyOut("COPY (SELECT " + columns + " FROM " + table + order + ") TO STDOUT", rows);
    new BufferedReader(new StringReader(rows.toString()))
        .lines()
        .forEach(line -> template.add(line, names));
    return template;
  }

  /** A new database with episodes from one number up to another, exclusive, in those tables. */
  PlainPostgres write(int from, int to, List<String> names) {
    PlainPostgres plain = new PlainPostgres(TestPostgres.newDatabase());
    open(plain).close();
    for (String name : names) {
      plain.withoutIndexes(name, () -> copy(plain, name, from, to));
    }
    // So that the questions find the wards.
    if (!names.contains("resource")) {
      copy(plain, "resource", 0, 0);
    }
    plain.run("VACUUM ANALYZE");
    return plain;
  }

  private void copy(PlainPostgres plain, String name, int from, int to) {
    Table table = tables.get(name);
    try (Connection connection = plain.open()) {
      CopyIn in =
          connection
              .unwrap(PGConnection.class)
              .getCopyAPI()
              .copyIn("COPY " + name + " (" + table.columns() + ") FROM STDIN");
      StringBuilder chunk = new StringBuilder();
      table.template().house(chunk);
      for (int episode = from; episode < to; episode++) {
        table.template().episode(episode, chunk);
        if (chunk.length() > CHUNK) {
          send(in, chunk);
        }
      }
      send(in, chunk);
      in.endCopy();
    } catch (java.sql.SQLException e) {
      throw new IllegalStateException(e);
    }
  }

  private static void send(CopyIn in, StringBuilder chunk) throws java.sql.SQLException {
    byte[] bytes = chunk.toString().getBytes(StandardCharsets.UTF_8);
    in.writeToCopy(bytes, 0, bytes.length);
    chunk.setLength(0);
  }

  /** Fails unless so many episodes have the same rows by intake. */
  void requireEqual(int episodes) {
    PlainPostgres byIntake = intake(episodes);
    PlainPostgres written = write(0, episodes, ALL);
    for (String name : COMPARED) {
      String columns = tables.containsKey(name) ? tables.get(name).columns() : "t.*";
      String digest =
          "SELECT count(*) || ' ' || md5(string_agg(line, '' ORDER BY line)) FROM"
              + " (SELECT md5(ROW(%s)::text) AS line FROM %s AS t) AS lines"
                  .formatted(columns, name);
      String expected = byIntake.texts(digest).get(0);
      if (!expected.equals(written.texts(digest).get(0))) {
        throw new IllegalStateException("The rows of " + name + " are not those of intake.");
      }
      System.out.printf("%s: %s rows equal to those of intake%n", name, expected.split(" ")[0]);
    }
  }
}
