package indwell.web.page;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.domain.event.Ward;
import indwell.domain.surveillance.WardMonth;
import indwell.port.SurveillanceFacts.Stated;
import indwell.web.fhir.AnswersOverHttp;
import java.math.BigDecimal;
import java.net.http.HttpResponse;
import java.time.Instant;
import java.time.YearMonth;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import java.util.Random;
import java.util.TreeMap;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The report of a month says what the FHIR interface says of it. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ReportPageTest {
  private static final YearMonth FEBRUARY = YearMonth.of(2026, 2);
  private static PagesServer server;
  private static AnswersOverHttp fhir;

  /** Five months of two wards, with facts of one of them. */
  @BeforeAll
  static void open() throws Exception {
    server = new PagesServer();
    Random random = new Random(20260310);
    for (int i = 0; i < 60; i++) {
      String ward = i % 3 == 0 ? "B-2" : "A-1";
      Instant in = Instant.parse("2025-10-01T07:00:00Z").plusSeconds(random.nextInt(12_000_000));
      List<String> events = new ArrayList<>(Bedside.withCatheter("P-" + i, ward, in));
      Instant out = in.plusSeconds(90_000 + random.nextInt(500_000));
      events.add(
          Bedside.event(
              "out-" + i, "P-" + i, "catheter-removed", out.toString(), "\"catheterId\":\"c1\""));
      events.add(
          Bedside.event(
              "go-" + i, "P-" + i, "patient-discharged", out.plusSeconds(3600).toString(), ""));
      server.record(events.toArray(String[]::new));
    }
    facts(
        YearMonth.of(2025, 11),
        "\"confirmedCauti\":2,\"cautiDates\":[\"2025-11-03\",\"2025-11-20\"]");
    facts(YearMonth.of(2025, 12), "\"confirmedCauti\":0,\"cautiDates\":[]");
    facts(YearMonth.of(2026, 1), "\"confirmedCauti\":1,\"cautiDates\":[\"2026-01-15\"]");
    facts(
        FEBRUARY,
        "\"baseline\":\"test\",\"cautiDates\":[\"2026-02-02\"],\"confirmedCauti\":1,"
            + "\"manualCatheterDays\":40,\"manualPatientDays\":44,\"predictedCauti\":1.25,"
            + "\"predictedDeviceDays\":38.5,\"sampledCatheterDays\":5,\"sampledPatientDays\":6,"
            + "\"sampledWeekday\":\"monday\"");
    fhir = new AnswersOverHttp(server.store(), PagesServer.BERLIN, server.now());
    fhir.takeFacts(server.facts(), YearMonth.of(2025, 1), FEBRUARY);
  }

  private static void facts(YearMonth month, String fields) {
    server
        .facts()
        .record(
            List.of(
                new Stated(
                    new WardMonth(new Ward("A-1"), month),
                    "{" + fields + "}",
                    OptionalInt.empty())),
            server.now(),
            taken -> List.of());
  }

  @AfterAll
  static void close() throws Exception {
    fhir.close();
    server.close();
  }

  /** Every value below a part by its path; of a check by what it counts. */
  private static void flatten(String path, JsonNode parts, Map<String, List<String>> into) {
    String prefix = path;
    for (JsonNode part : parts) {
      if (part.get("name").asText().equals("count") && part.has("valueCode")) {
        prefix = path + part.get("valueCode").asText() + ".";
      }
    }
    for (JsonNode part : parts) {
      String name = prefix + part.get("name").asText();
      if (part.has("part")) {
        flatten(name + ".", part.get("part"), into);
      }
      part.properties().stream()
          .filter(field -> field.getKey().startsWith("value"))
          .filter(field -> field.getValue().isValueNode())
          .forEach(
              field ->
                  into.computeIfAbsent(name, any -> new ArrayList<>())
                      .add(field.getValue().asText()));
    }
  }

  private static JsonNode report(String ward, YearMonth start, YearMonth end) throws Exception {
    String path = ward.isEmpty() ? "" : "/Location/" + ward;
    return new ObjectMapper()
        .readTree(
            fhir.get(
                path + "/$unit-report?start=" + start + "&end=" + end, "application/fhir+json"));
  }

  private static Map<String, List<String>> said(JsonNode report, String parameter, String ward) {
    for (JsonNode one : report.get("parameter")) {
      Map<String, List<String>> values = new TreeMap<>();
      if (one.get("name").asText().equals(parameter)) {
        flatten("", one.get("part"), values);
        if (ward.isEmpty() || values.get("ward").contains(ward)) {
          return values;
        }
      }
    }
    throw new AssertionError("No " + parameter + " of " + ward);
  }

  private static String plain(String value) {
    return switch (value) {
      case "true" -> "yes";
      case "false" -> "no";
      default ->
          value.matches("-?[0-9.]+")
              ? new BigDecimal(value).stripTrailingZeros().toPlainString()
              : value;
    };
  }

  @ParameterizedTest
  @ValueSource(strings = {"A-1", "B-2"})
  void every_figure_of_a_ward_is_that_of_the_FHIR_answer(String ward) throws Exception {
    Document page = server.page("/wards/" + ward + "/report?month=2026-02");
    Map<String, List<String>> said = said(report(ward, FEBRUARY, FEBRUARY), "month", ward);

    int compared = 0;
    for (Element figure : page.select(".figures [data-figure]")) {
      String path = figure.attr("data-figure");
      if (!path.startsWith("practice.")) {
        assertThat(said).containsKey(path);
        assertThat(plain(figure.attr("value"))).as(path).isEqualTo(plain(said.get(path).get(0)));
        compared++;
      }
    }
    assertThat(compared).isGreaterThan(ward.equals("A-1") ? 25 : 4);
    // What the answer has is on the page, save what an absent figure stands for.
    List<String> onPage = page.select(".figures [data-path]").eachAttr("data-path");
    assertThat(said.keySet())
        .filteredOn(path -> !path.endsWith("withheld") && !path.endsWith("remark"))
        .filteredOn(path -> !path.endsWith("baseline") && !path.endsWith(".count"))
        .filteredOn(path -> !path.equals("ward") && !path.equals("month"))
        .filteredOn(path -> !path.endsWith(".validated") || onPage.contains(path))
        .isSubsetOf(onPage);
  }

  @Test
  void every_number_of_the_charts_is_that_of_the_FHIR_answer() throws Exception {
    Document page = server.page("/wards/A-1/report?month=2026-02");
    Map<String, List<String>> said =
        said(report("A-1", FEBRUARY.minusMonths(24), FEBRUARY), "ward", "A-1");

    for (String path :
        List.of(
            "uChart.point.rate", "uChart.point.lower", "uChart.point.upper", "gChart.gap.days")) {
      assertThat(page.select("table [data-figure=" + path + "]").eachAttr("value"))
          .as(path)
          .isNotEmpty()
          .extracting(ReportPageTest::plain)
          .isEqualTo(said.get(path).stream().map(ReportPageTest::plain).toList());
    }
    for (String path : List.of("uChart.centre", "gChart.centre", "gChart.upper", "gChart.median")) {
      assertThat(page.select("table [data-figure=" + path + "]").eachAttr("value"))
          .as(path)
          .extracting(ReportPageTest::plain)
          .containsOnly(plain(said.get(path).get(0)));
    }
    assertThat(page.select("svg circle.point, svg path.point"))
        .hasSize(said.get("uChart.point.rate").size() + said.get("gChart.gap.days").size());
  }

  @Test
  void the_house_adds_up_its_wards() throws Exception {
    Document page = server.page("/report?month=2026-02");
    JsonNode report = report("", FEBRUARY, FEBRUARY);

    for (String ward : List.of("A-1", "B-2")) {
      Map<String, List<String>> said = said(report, "month", ward);
      for (Element figure : page.select("tr[data-ward=" + ward + "] [data-figure]")) {
        assertThat(plain(figure.attr("value")))
            .isEqualTo(plain(said.get(figure.attr("data-figure")).get(0)));
      }
    }
    long sum =
        page.select("tr [data-figure=catheterDays]").stream()
            .mapToLong(one -> Long.parseLong(one.attr("value")))
            .sum();
    assertThat(page.select(".figures [data-figure=catheterDays]").attr("value"))
        .isEqualTo(Long.toString(sum));
    Map<String, List<String>> pooled = said(report, "pooledSir", "");
    assertThat(plain(page.select("[data-figure=pooledSir.ratio]").attr("value")))
        .isEqualTo(plain(pooled.get("ratio").get(0)));
  }

  @Test
  void every_figure_says_why() throws Exception {
    for (Element figure : server.page("/wards/A-1/report?month=2026-02").select("li[data-path]")) {
      assertThat(figure.select("details").text())
          .as(figure.attr("data-path"))
          .containsPattern("^Why .+ Rule [A-Z]+-[0-9] Source \\S+");
    }
  }

  @Test
  void what_is_withheld_says_why_and_is_never_nought() throws Exception {
    Document page = server.page("/wards/B-2/report?month=2026-02");

    assertThat(page.select("[data-path=rate]").text())
        .contains("No confirmed count of events is known.");
    assertThat(page.select("[data-figure=rate], [data-figure=sir.ratio]")).isEmpty();
    assertThat(page.text()).contains("No month has both a confirmed count and catheter days.");
  }

  @Test
  void every_chart_is_named_and_described_and_has_a_table_behind_it() throws Exception {
    Document page = server.page("/wards/A-1/report?month=2026-02");

    assertThat(page.select("svg")).hasSize(3);
    for (Element chart : page.select("svg")) {
      String id = chart.attr("aria-labelledby").replaceFirst("-t .*", "");
      assertThat(chart.select("title#" + id + "-t").text()).isNotBlank();
      assertThat(chart.select("desc#" + id + "-d").text()).contains("The table below");
      assertThat(chart.select("[style], style, [fill], [stroke]")).isEmpty();
      assertThat(page.select("table[data-chart=" + id + "] tbody tr")).isNotEmpty();
    }
    assertThat(page.select("figcaption").text()).contains("at least 25 are advised");
  }

  @Test
  void the_table_has_every_figure_of_the_page() throws Exception {
    Document page = server.page("/wards/A-1/report?month=2026-02");
    HttpResponse<String> csv = server.get("/wards/A-1/report.csv?month=2026-02");
    List<String> lines = csv.body().lines().toList();

    assertThat(csv.headers().firstValue("Content-Type")).hasValue("text/csv; charset=utf-8");
    assertThat(csv.headers().firstValue("Content-Disposition"))
        .hasValue("attachment; filename=\"report-A-1-2026-02.csv\"");
    assertThat(lines.get(0)).isEqualTo("ward,month,measure,value,unit,rule,remark");
    assertThat(lines).hasSize(1 + page.select("li[data-path]").size());
    for (Element figure : page.select(".figures [data-figure]")) {
      assertThat(lines)
          .anyMatch(
              line ->
                  line.startsWith(
                      "A-1,2026-02,"
                          + figure.attr("data-figure")
                          + ","
                          + figure.attr("value")
                          + ","));
    }
    assertThat(server.get("/report.csv?month=2026-02").body())
        .contains("\r\n,2026-02,patientDays,", "\r\nB-2,2026-02,patientDays,");
  }

  @Test
  void the_last_month_that_ended_is_shown_where_none_is_asked_for() throws Exception {
    Document page = server.page("/wards/A-1/report");

    assertThat(page.select("h1").text()).isEqualTo("February 2026 A-1");
    assertThat(page.select(".month a").eachAttr("href"))
        .containsExactly("/wards/A-1/report?month=2026-01");
  }

  @ParameterizedTest
  @CsvSource({
    "/wards/A-1/report?month=2026-03, 400, IND-0104",
    "/wards/A-1/report?month=2026-13, 400, IND-0220",
    "/report?month=march, 400, IND-0220",
    "/report?month=1999-12, 400, IND-0220",
    "/report?start=2026-01, 400, IND-0103",
    "/wards/NOWHERE/report?month=2026-02, 404, IND-0100",
    "/wards/NOWHERE/report.csv?month=2026-02, 404, IND-0100"
  })
  void what_cannot_be_shown_is_a_page_with_a_code(String path, int status, String code)
      throws Exception {
    HttpResponse<String> answer = server.get(path);

    assertThat(answer.statusCode()).isEqualTo(status);
    assertThat(Jsoup.parse(answer.body()).select("[data-code]").text()).isEqualTo(code);
  }

  @Test
  void an_empty_house_says_so() throws Exception {
    try (PagesServer empty = new PagesServer()) {
      Document page = empty.page("/report");

      assertThat(page.select(".tiles").text()).contains("There are no patient days to divide by.");
      assertThat(page.select("svg")).isEmpty();
    }
  }
}
