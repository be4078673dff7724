package indwell.web.page;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.domain.event.BusinessId;
import indwell.fhir.map.ResourceId;
import indwell.web.fhir.AnswersOverHttp;
import java.math.BigDecimal;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
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

/** The page of a patient says what the FHIR interface says at the same moment. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PatientPageTest {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static PagesServer demo;
  private static AnswersOverHttp fhir;

  @BeforeAll
  static void open() throws Exception {
    demo = new PagesServer();
    demo.loadDemo();
    fhir = new AnswersOverHttp(demo.store(), PagesServer.BERLIN, demo.now());
  }

  @AfterAll
  static void close() throws Exception {
    fhir.close();
    demo.close();
  }

  private static String id(String system, String value) {
    return ResourceId.patient(new BusinessId(system, value)).id();
  }

  private static String demoId(String value) {
    return id("https://demo.indwell.example/patient", value);
  }

  private static JsonNode answer(String path) throws Exception {
    return JSON.readTree(fhir.get(path, "application/fhir+json"));
  }

  private static String value(JsonNode day, String name) {
    for (JsonNode part : day.get("part")) {
      if (part.get("name").asText().equals(name)) {
        JsonNode value =
            part.properties().stream()
                .filter(field -> field.getKey().startsWith("value"))
                .findFirst()
                .orElseThrow()
                .getValue();
        return value.isBoolean() ? (value.asBoolean() ? "yes" : "no") : value.asText();
      }
    }
    return "";
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "W-101", "W-102", "W-103", "W-104", "W-105", "W-106", "W-107", "W-108", "W-109", "W-110",
        "W-111", "W-112"
      })
  void every_number_is_that_of_the_FHIR_answer(String patient) throws Exception {
    String id = demoId(patient);
    Document page = demo.page("/patients/" + id);
    JsonNode days = answer("/Patient/" + id + "/$catheter-days?asOf=" + demo.now());

    List<List<String>> said = new ArrayList<>();
    Map<String, String> open = new TreeMap<>();
    for (JsonNode parameter : days.get("parameter")) {
      switch (parameter.get("name").asText()) {
        case "day" ->
            said.add(
                List.of(
                    value(parameter, "date"),
                    value(parameter, "dayNumber"),
                    value(parameter, "catheterPresent"),
                    value(parameter, "eligible"),
                    value(parameter, "ward")));
        case "catheterDay" -> open.put("catheterDay", parameter.get("valuePositiveInt").asText());
        case "openSince" ->
            open.put(
                "openSince",
                OffsetDateTime.parse(parameter.get("valueDateTime").asText())
                    .toInstant()
                    .toString());
        default -> {}
      }
    }

    assertThat(
            page.select("tr[data-day]").stream()
                .map(
                    row ->
                        List.of(
                            row.attr("data-day"),
                            row.select("[data-figure=dayNumber]").attr("value"),
                            row.select("[data-figure=catheterPresent]").text(),
                            row.select("[data-figure=eligible]").text(),
                            row.select("[data-figure=ward]").text()))
                .toList())
        .isEqualTo(said);
    Map<String, String> onPage = new TreeMap<>();
    page.select("[data-figure=catheterDay]")
        .forEach(one -> onPage.put("catheterDay", one.attr("value")));
    page.select("[data-figure=openSince] time")
        .forEach(
            one ->
                onPage.put(
                    "openSince",
                    OffsetDateTime.parse(one.attr("datetime")).toInstant().toString()));
    assertThat(onPage).isEqualTo(open);
  }

  @ParameterizedTest
  @ValueSource(strings = {"W-102", "W-104", "W-108", "W-109", "W-110", "W-111"})
  void every_flag_is_that_of_the_FHIR_search_past_ones_too(String patient) throws Exception {
    String id = demoId(patient);
    Map<String, List<Instant>> said = new TreeMap<>();
    for (JsonNode entry : answer("/Flag?_count=200&patient=Patient/" + id).get("entry")) {
      JsonNode period = entry.at("/resource/period");
      List<Instant> ends = new ArrayList<>();
      ends.add(OffsetDateTime.parse(period.get("start").asText()).toInstant());
      if (period.has("end")) {
        ends.add(OffsetDateTime.parse(period.get("end").asText()).toInstant());
      }
      said.put(entry.at("/resource/id").asText(), ends);
    }

    Map<String, List<Instant>> onPage = new TreeMap<>();
    for (Element flag : demo.page("/patients/" + id).select("[data-flag-id]")) {
      List<Instant> ends = new ArrayList<>();
      ends.add(OffsetDateTime.parse(flag.attr("data-since")).toInstant());
      if (flag.hasAttr("data-until")) {
        ends.add(OffsetDateTime.parse(flag.attr("data-until")).toInstant());
      }
      onPage.put(flag.attr("data-flag-id"), ends);
    }

    assertThat(said).isNotEmpty();
    assertThat(onPage).isEqualTo(said);
  }

  @Test
  void every_rate_is_that_of_its_FHIR_Observation() throws Exception {
    Document page = demo.page("/patients/" + demoId("W-109"));

    assertThat(page.select("[data-observation]")).hasSizeGreaterThan(50);
    for (Element rate : page.select("[data-observation]").subList(0, 60)) {
      JsonNode observation = answer("/Observation/" + rate.attr("data-observation"));
      assertThat(new BigDecimal(rate.attr("value")))
          .isEqualByComparingTo(new BigDecimal(observation.at("/valueQuantity/value").asText()));
    }
    // 24 mL an hour at 70 kg is 0.343, 60 mL is 0.857 mL/kg/h.
    assertThat(page.select("tr.low")).hasSize(8);
  }

  @Test
  void every_day_flag_and_rate_says_why() throws Exception {
    Document page = demo.page("/patients/" + demoId("W-109"));

    for (Element row : page.select("tr[data-day], [data-flag-id], tr:has([data-observation])")) {
      assertThat(row.select("details dl").text())
          .containsPattern("Rule [A-Z]+-[A-Z0-9-]+ Source \\S+");
    }
  }

  @Test
  void the_drawing_is_named_described_and_without_a_style_of_its_own() throws Exception {
    Element drawing = demo.page("/patients/" + demoId("W-103")).selectFirst("svg");

    assertThat(drawing.attr("role")).isEqualTo("img");
    assertThat(drawing.attr("aria-labelledby")).isEqualTo("stay-t stay-d");
    assertThat(drawing.selectFirst("#stay-t").text()).isEqualTo("The stay of W-103 over time");
    assertThat(drawing.selectFirst("#stay-d").text())
        .contains("EAST-3", "catheters: 2", "The tables below say the same.");
    assertThat(drawing.select("[style], style, script, [fill], [stroke]")).isEmpty();
    assertThat(drawing.select("rect.tube")).hasSize(2);
  }

  @Test
  void corrections_stand_in_the_history_with_what_was_said_before() throws Exception {
    Document corrected = demo.page("/patients/" + demoId("W-108"));
    Document withdrawn = demo.page("/patients/" + demoId("W-101"));

    assertThat(corrected.select(".history").text())
        .contains("demo-ward:W-108/third-insertion", "Version 2", "corrects it")
        .contains("details.balloonFilledMl: 10 6");
    assertThat(withdrawn.select(".history").text())
        .contains("demo-ward:W-101/wrong-chart taken back")
        .contains("takes the event back as entered in error");
  }

  @Test
  void an_event_that_was_moved_to_another_patient_tells_nothing_of_that_one() throws Exception {
    try (PagesServer server = new PagesServer()) {
      server.record(
          Bedside.withCatheter("first", "A-1", PagesServer.NOW.minusSeconds(9000))
              .toArray(String[]::new));
      String moved =
          Bedside.event(
              "w",
              "first",
              "need-reviewed",
              "2026-03-10T11:00:00Z",
              "\"catheterId\":\"c1\",\"stillNeeded\":false");
      server.record(moved);
      server.record(
          moved
              .replace("\"value\":\"first\"", "\"value\":\"secret\"")
              .replace("\"eventId\"", "\"version\":2,\"eventId\""));

      Document page = server.page("/patients/" + id(Bedside.SYSTEM, "first"));

      assertThat(page.select(".history").text()).contains("names another patient");
      assertThat(page.text()).doesNotContain("secret");
    }
  }

  @Test
  void an_earlier_stay_can_be_chosen() throws Exception {
    try (PagesServer server = new PagesServer()) {
      server.record(
          Bedside.event("a", "p", "patient-admitted", "2026-02-01T08:00:00Z", "\"ward\":\"OLD-1\""),
          Bedside.event("b", "p", "patient-discharged", "2026-02-03T08:00:00Z", ""),
          Bedside.event("c", "p", "patient-admitted", "2026-03-01T08:00:00Z", "\"ward\":\"NEW-1\"")
              .replace("S p", "S p2"));
      String path = "/patients/" + id(Bedside.SYSTEM, "p");

      assertThat(server.page(path).select("tr[data-day]").first().attr("data-day"))
          .isEqualTo("2026-03-01");
      Document first = server.page(path + "?stay=1");
      assertThat(first.select("tr[data-day]").eachAttr("data-day"))
          .containsExactly("2026-02-01", "2026-02-02", "2026-02-03", "2026-02-04");
      assertThat(first.select(".wards a")).hasSize(2);
      assertThat(server.get(path + "?stay=3").statusCode()).isEqualTo(400);
    }
  }

  @ParameterizedTest
  @CsvSource({
    "/patients/unknown, 404, IND-0100",
    "/patients/%22%3E%3Cb%3E, 404, IND-0100",
    "/patients/unknown?x=1, 400, IND-0103",
    "/patients/unknown?stay=one, 400, IND-0104"
  })
  void what_cannot_be_shown_is_a_page_with_a_code(String path, int status, String code)
      throws Exception {
    HttpResponse<String> answer = demo.get(path);

    assertThat(answer.statusCode()).isEqualTo(status);
    assertThat(Jsoup.parse(answer.body()).select("[data-code]").text()).isEqualTo(code);
  }

  @Test
  void hostile_text_stays_text_in_tables_and_in_the_drawing() throws Exception {
    String hostile = "</svg><script>alert(1)</script>";
    try (PagesServer server = new PagesServer()) {
      server.record(
          Bedside.withCatheter(hostile, "A-1", PagesServer.NOW.minus(Duration.ofHours(9))).get(0),
          Bedside.event(
              "x",
              hostile,
              "catheter-inserted",
              "2026-03-10T10:00:00Z",
              "\"catheterId\":\""
                  + hostile
                  + "\",\"route\":\"urethral\",\"sizeCh\":14,"
                  + "\"indication\":\"acute-retention\""));

      Document page = server.page("/patients/" + id(Bedside.SYSTEM, hostile));

      assertThat(page.select("script")).isEmpty();
      assertThat(page.select("h1").text()).startsWith(hostile);
      assertThat(page.select("svg text.lane").eachText()).contains(hostile);
    }
  }
}
