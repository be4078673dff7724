package indwell.oracle;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.adapter.store.memory.MemoryStore;
import indwell.port.ClinicalStore;
import indwell.usecase.DeviceDays;
import indwell.usecase.DeviceDaysCsv;
import indwell.usecase.UnmappedIntake;
import indwell.web.fhir.AnswersOverHttp;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.api.Test;

/** {@code $device-days} over a year of 50 wards, cell by cell against the SQL. */
@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class YearOfWardsTest {
  private static final int CELLS = 50 * 365;
  private static final String RANGE =
      "start=%s&end=%s".formatted(YearOfWards.FIRST, YearOfWards.LAST);

  private static final History YEAR = YearOfWards.of(2025);
  private static final ClinicalStore STORE = new MemoryStore();
  private static final SqlCounters SQL = new SqlCounters();
  private static Answers counted;

  @BeforeAll
  static void fill() {
    UnmappedIntake.take(STORE, YEAR.arrivals().stream().map(FactBody::of).toList());
    counted = SQL.count(List.of(YEAR)).get(0);
  }

  @AfterAll
  static void close() {
    SQL.close();
    STORE.close();
  }

  @Test
  void the_year_is_one_worth_counting() throws Exception {
    SortedMap<String, Long> sizes = new TreeMap<>();
    SQL.read(
        """
        SELECT 'wards', count(DISTINCT ward) FROM denominator
        UNION ALL SELECT 'cells', count(*) FROM denominator
        UNION ALL SELECT 'stays', count(*) FROM stay JOIN reading USING (reading_id)
          WHERE as_of IS NULL
        UNION ALL SELECT 'patient days', sum(patient_days) FROM denominator
        UNION ALL SELECT 'catheter days', sum(catheter_days) FROM denominator
        """,
        row -> sizes.put(row.getString(1), row.getLong(2)));

    assertThat(sizes).containsEntry("wards", 50L).containsEntry("cells", (long) CELLS);
    assertThat(sizes.get("stays")).isGreaterThan(4_000);
    assertThat(sizes.get("patient days")).isGreaterThan(20_000);
    assertThat(sizes.get("catheter days")).isGreaterThan(5_000);
  }

  @Test
  void both_counters_agree_in_every_cell() {
    Answers service = new Answers();
    ServiceCounters.ask(STORE, YEAR, service);

    assertThat(counted.differencesTo(service)).isEmpty();
  }

  @Test
  void the_csv_is_the_sql_row_by_row() throws Exception {
    DeviceDays.Table table =
        ServiceCounters.deviceDays(STORE, ServiceCounters.facility(YEAR), YEAR);

    assertThat(DeviceDaysCsv.of(table).equals(expectedCsv())).isTrue();
  }

  @Test
  void the_csv_over_http_is_the_same() throws Exception {
    try (AnswersOverHttp http =
        new AnswersOverHttp(STORE, ServiceCounters.facility(YEAR), ServiceCounters.NOW)) {
      assertThat(http.get("/$device-days?" + RANGE, "text/csv").equals(expectedCsv())).isTrue();
    }
  }

  @Test
  void each_report_has_the_sums_of_its_ward_and_month() throws Exception {
    SortedMap<String, String> expected = new TreeMap<>();
    SQL.read(
        """
        SELECT ward, min(date)::VARCHAR, max(date)::VARCHAR, sum(patient_days), sum(catheter_days)
        FROM denominator GROUP BY ward, date_trunc('month', date)
        """,
        row ->
            expected.put(
                "Location/" + row.getString(1) + " " + row.getString(2) + " " + row.getString(3),
                sums(row.getLong(4), row.getLong(5))));

    assertThat(expected).hasSize(50 * 12);
    assertThat(reports()).isEqualTo(expected);
  }

  private static String sums(long patientDays, long catheterDays) {
    BigDecimal score =
        patientDays == 0
            ? null
            : BigDecimal.valueOf(catheterDays)
                .divide(BigDecimal.valueOf(patientDays), 6, RoundingMode.HALF_UP)
                .stripTrailingZeros();
    return patientDays + " patient days, " + catheterDays + " catheter days, " + plain(score);
  }

  private static String plain(BigDecimal score) {
    return score == null ? "no score" : "score " + score.toPlainString();
  }

  private static String expectedCsv() throws Exception {
    StringBuilder csv = new StringBuilder("date,ward,patient_days,catheter_days\r\n");
    SQL.read(
        """
        SELECT concat_ws(',', date, ward, patient_days, catheter_days)
        FROM denominator ORDER BY ward, date
        """,
        row -> csv.append(row.getString(1)).append("\r\n"));
    return csv.toString();
  }

  private static Map<String, String> reports() throws Exception {
    SortedMap<String, String> reports = new TreeMap<>();
    try (AnswersOverHttp http =
        new AnswersOverHttp(STORE, ServiceCounters.facility(YEAR), ServiceCounters.NOW)) {
      String bundle = http.get("/$device-days?" + RANGE, "application/fhir+json");
      for (JsonNode entry : new ObjectMapper().readTree(bundle).get("entry")) {
        JsonNode resource = entry.get("resource");
        if (resource.get("resourceType").asText().equals("MeasureReport")) {
          reports.put(where(resource), sums(resource.get("group").get(0)));
        }
      }
    }
    return reports;
  }

  private static String where(JsonNode report) {
    JsonNode period = report.get("period");
    return report.at("/subject/reference").asText()
        + " "
        + period.get("start").asText()
        + " "
        + period.get("end").asText();
  }

  private static String sums(JsonNode group) {
    JsonNode score = group.at("/measureScore/value");
    return population(group, "denominator")
        + " patient days, "
        + population(group, "numerator")
        + " catheter days, "
        + plain(score.isMissingNode() ? null : new BigDecimal(score.asText()).stripTrailingZeros());
  }

  private static long population(JsonNode group, String code) {
    for (JsonNode population : group.get("population")) {
      if (population.at("/code/coding/0/code").asText().equals(code)) {
        return population.get("count").asLong();
      }
    }
    throw new AssertionError("No population " + code);
  }
}
