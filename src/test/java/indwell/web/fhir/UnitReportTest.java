package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.adapter.validation.HapiProfileValidator;
import indwell.contract.SharedValidator;
import indwell.domain.event.Ward;
import indwell.domain.surveillance.Factor;
import indwell.domain.surveillance.HospitalType;
import indwell.domain.surveillance.PredictedCauti;
import indwell.domain.surveillance.WardMonth;
import indwell.intake.FactsBodies;
import indwell.intake.FactsBody;
import indwell.port.ProfileValidator.Finding;
import indwell.usecase.KeepFacts;
import indwell.usecase.Predictions;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.YearMonth;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * The report over HTTP. One patient in ward A-1, counted at midnight in Berlin: January has 31
 * patient days and 21 catheter days, February 15 of each. What is expected is worked out by hand.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class UnitReportTest {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final String BOTH = "/$unit-report?start=2026-01&end=2026-02";
  private static FhirServer server;
  private static JsonNode report;

  @BeforeAll
  static void start() throws Exception {
    server = new FhirServer(predictions(), FhirServer.NOW);
    recordStay(server);
    put(
        "2026-01",
        "{\"manualPatientDays\":31,\"manualCatheterDays\":20,\"confirmedCauti\":1,"
            + "\"cautiDates\":[\"2026-01-12\"],\"predictedCauti\":1.5,\"baseline\":\"B17\"}");
    put(
        "2026-02",
        "{\"manualPatientDays\":15,\"manualCatheterDays\":14,\"confirmedCauti\":2,"
            + "\"cautiDates\":[\"2026-02-02\",\"2026-02-02\"],\"predictedCauti\":0.8,"
            + "\"predictedDeviceDays\":10,\"baseline\":\"B17\","
            + "\"sampledDates\":[\"2026-02-04\",\"2026-02-11\",\"2026-02-18\",\"2026-02-25\"]}");
    report = get(BOTH);
  }

  @AfterAll
  static void stop() throws Exception {
    server.close();
  }

  private static Predictions predictions() {
    PredictedCauti model =
        new PredictedCauti(
            HospitalType.ACUTE_CARE,
            Map.of(
                Factor.BEDS, "300",
                Factor.MEDICAL_SCHOOL, "none",
                Factor.AVERAGE_STAY_DAYS, "4.1",
                Factor.ICU_SHARE, "0.1"));
    return new Predictions(Optional.of(model), Map.of(new Ward("A-1"), "step-down"));
  }

  static void recordStay(FhirServer server) {
    server.record(
        FhirServer.event("u1", "patient-admitted", "2025-12-31T22:00:00+01:00", "\"ward\":\"A-1\""),
        FhirServer.event(
            "u2",
            "catheter-inserted",
            "2026-01-10T09:00:00+01:00",
            "\"catheterId\":\"c1\",\"route\":\"urethral\",\"sizeCh\":14,"
                + "\"indication\":\"acute-retention\""),
        FhirServer.event("u3", "patient-discharged", "2026-02-15T12:00:00+01:00", ""));
  }

  private static void put(String month, String json) {
    KeepFacts keep = new KeepFacts(server.facts, FhirServer.BERLIN);
    FactsBody body =
        FactsBodies.object(
            json.getBytes(StandardCharsets.UTF_8),
            new WardMonth(new Ward("A-1"), YearMonth.parse(month)),
            keep.today(FhirServer.NOW));
    keep.record(
        ((FactsBody.Accepted) body).facts(),
        OptionalInt.empty(),
        FhirServer.NOW,
        none -> List.of());
  }

  private static JsonNode get(String path) throws Exception {
    HttpResponse<String> response = server.get(path);
    assertThat(response.statusCode()).as(response.body()).isEqualTo(200);
    return JSON.readTree(response.body());
  }

  private static List<JsonNode> all(JsonNode parent, String name) {
    List<JsonNode> found = new ArrayList<>();
    String parts = parent.has("parameter") ? "parameter" : "part";
    parent.path(parts).forEach(one -> addNamed(one, name, found));
    return found;
  }

  private static void addNamed(JsonNode one, String name, List<JsonNode> found) {
    if (one.get("name").asText().equals(name)) {
      found.add(one);
    }
  }

  private static JsonNode part(JsonNode parent, String... path) {
    JsonNode here = parent;
    for (String name : path) {
      here = all(here, name).get(0);
    }
    return here;
  }

  /** The value as it is written, or the reason why there is none. */
  private static String value(JsonNode parent, String... path) {
    JsonNode here = part(parent, path);
    List<String> found = new ArrayList<>();
    here.fieldNames()
        .forEachRemaining(
            field -> {
              if (field.startsWith("value")) {
                found.add(here.get(field).asText());
              } else if (field.startsWith("_value") && found.isEmpty()) {
                found.add(
                    here.at("/" + field + "/extension").findValuesAsText("valueCode").stream()
                        .findFirst()
                        .orElse(""));
              }
            });
    return found.get(0);
  }

  private static JsonNode january() {
    return all(report, "month").get(0);
  }

  private static JsonNode february() {
    return all(report, "month").get(1);
  }

  @Test
  void the_days_of_a_month_and_what_is_divided_by_them() {
    assertThat(value(january(), "ward")).isEqualTo("A-1");
    assertThat(value(january(), "month")).isEqualTo("2026-01");
    assertThat(value(january(), "patientDays")).isEqualTo("31");
    assertThat(value(january(), "catheterDays")).isEqualTo("21");
    assertThat(value(january(), "utilisationRatio")).isEqualTo("0.677419");
    assertThat(value(january(), "confirmedCauti")).isEqualTo("1");
    assertThat(value(january(), "rate")).isEqualTo("47.619");
    assertThat(value(february(), "rate")).isEqualTo("133.3333");
  }

  /** 1 of 1.5: limits 0.0500 / 1.5 and 4.9319 / 1.5 (domain rules 4.2). */
  @Test
  void the_ratio_of_a_month_with_its_limits() {
    assertThat(value(january(), "sir", "observed")).isEqualTo("1");
    assertThat(value(january(), "sir", "predicted")).isEqualTo("1.5");
    assertThat(value(january(), "sir", "baseline")).isEqualTo("B17");
    assertThat(value(january(), "sir", "ratio")).isEqualTo("0.667");
    assertThat(value(january(), "sir", "lower")).isEqualTo("0.033");
    assertThat(value(january(), "sir", "upper")).isEqualTo("3.288");
    assertThat(value(january(), "sir", "comparison")).isEqualTo("no different");
  }

  @Test
  void a_ratio_is_withheld_with_its_reason_and_never_0() {
    assertThat(value(february(), "sir", "observed")).isEqualTo("2");
    assertThat(value(february(), "sir", "ratio")).isEqualTo("not-applicable");
    assertThat(value(february(), "sir", "withheld"))
        .isEqualTo("The predicted count is below 1.0, too few to compare with (rule S2).");
    assertThat(value(january(), "sur", "ratio")).isEqualTo("unknown");
    assertThat(value(february(), "sur", "ratio")).isEqualTo("1.5");
  }

  @Test
  void a_weekly_sample_is_counted_on_its_dates() {
    assertThat(value(february(), "weeklyEstimate", "catheterDays")).isEqualTo("15.0");
    assertThat(value(february(), "weeklyEstimate", "remark"))
        .startsWith("The ward has fewer than 75 device days a month on average");
    assertThat(value(january(), "weeklyEstimate", "catheterDays")).isEqualTo("unknown");
  }

  @Test
  void the_electronic_count_is_checked_against_the_manual_one() {
    JsonNode patients = all(january(), "electronicCheck").get(0);
    assertThat(value(patients, "count")).isEqualTo("patient-days");
    assertThat(value(patients, "differencePercent")).isEqualTo("0.0");
    JsonNode catheters = all(january(), "electronicCheck").get(1);
    assertThat(value(catheters, "count")).isEqualTo("catheter-days");
    assertThat(value(catheters, "differencePercent")).isEqualTo("5.0");
    assertThat(value(catheters, "passes")).isEqualTo("true");
    assertThat(value(catheters, "run")).isEqualTo("1");
    JsonNode later = all(february(), "electronicCheck").get(1);
    assertThat(value(later, "passes")).isEqualTo("false");
    assertThat(value(later, "run")).isEqualTo("0");
    assertThat(value(all(february(), "electronicCheck").get(0), "run")).isEqualTo("2");
    assertThat(value(later, "validated")).isEqualTo("false");
  }

  /** Step-down, beds 177-420: sum -7.2814 (PRED-5); exp(-7.2814) * 21 = 0.0144526. */
  @Test
  void cauti_are_predicted_out_of_the_configured_table() {
    assertThat(value(january(), "predictedCauti", "predicted")).isEqualTo("0.014453");
    assertThat(value(january(), "predictedCauti", "baseline"))
        .isEqualTo("NHSN 2022, table 2022-acute-care");
  }

  /** 3 CAUTI in 36 catheter days; the mean gap of 21 and 0 days is 10.5. */
  @Test
  void a_ward_is_charted_over_the_range() {
    JsonNode ward = part(report, "ward");
    assertThat(value(ward, "uChart", "centre")).isEqualTo("83.3333");
    assertThat(all(part(ward, "uChart"), "point")).hasSize(2);
    assertThat(value(ward, "uChart", "point", "outside")).isEqualTo("false");
    assertThat(value(ward, "uChart", "remark")).startsWith("Only 2 months are charted");
    assertThat(value(ward, "gChart", "centre")).isEqualTo("10.5");
    assertThat(value(ward, "gChart", "upper")).isEqualTo("43.4659");
    assertThat(all(part(ward, "gChart"), "gap"))
        .extracting(gap -> value(gap, "days"))
        .containsExactly("21", "0");
  }

  @Test
  void ratios_are_pooled_by_adding() {
    assertThat(value(report, "pooledSir", "observed")).isEqualTo("3");
    assertThat(value(report, "pooledSir", "predicted")).isEqualTo("2.3");
    assertThat(value(report, "pooledSir", "ratio")).isEqualTo("1.304");
    assertThat(value(part(report, "ward"), "pooledSir", "ratio")).isEqualTo("1.304");
    assertThat(value(report, "pooledSur", "ratio")).isEqualTo("1.5");
  }

  @Test
  void every_figure_says_by_which_rule_and_from_what() throws Exception {
    List<String> untraced = new ArrayList<>();
    collectUntraced(report, untraced);
    assertThat(untraced).isEmpty();

    JsonNode trace = part(january(), "rate").at("/_valueDecimal/extension/0");
    assertThat(trace.get("url").asText())
        .isEqualTo("https://indwell.example/fhir/StructureDefinition/catheter-trace");
    assertThat(trace.at("/extension/0/valueString").asText()).isEqualTo("RATE-1");
    assertThat(trace.at("/extension/1/valueString").asText()).startsWith("NHSN manual chapter 7");
    assertThat(trace.at("/extension/2/valueString").asText())
        .isEqualTo("1 confirmed CAUTI in 21 catheter days.");
    assertThat(trace.at("/extension/3/valueReference/reference").asText())
        .isEqualTo("Location/A-1");
    assertThat(trace.at("/extension/4/valueReference/identifier/value").asText())
        .isEqualTo("A-1/2026-01/1");
  }

  private static void collectUntraced(JsonNode node, List<String> untraced) {
    for (String type : List.of("Decimal", "Integer", "Boolean")) {
      boolean figure = node.has("value" + type) || node.has("_value" + type);
      if (figure && !node.path("_value" + type).toString().contains("catheter-trace")) {
        untraced.add(node.toString());
      }
    }
    node.forEach(child -> collectUntraced(child, untraced));
  }

  @Test
  void one_ward_and_a_body_of_parameters_are_answered_alike() throws Exception {
    assertThat(get("/Location/A-1/$unit-report?start=2026-01&end=2026-02")).isEqualTo(report);
    HttpResponse<String> posted =
        server.post(
            "/$unit-report",
            "application/fhir+json",
            "{\"resourceType\":\"Parameters\",\"parameter\":["
                + "{\"name\":\"start\",\"valueDate\":\"2026-01\"},"
                + "{\"name\":\"end\",\"valueDate\":\"2026-02\"}]}");
    assertThat(JSON.readTree(posted.body())).isEqualTo(report);
  }

  @Test
  void the_months_before_lead_up_to_the_first() throws Exception {
    JsonNode second = get("/$unit-report?start=2026-02&end=2026-02");
    assertThat(all(second, "month")).containsExactly(february());
  }

  @Test
  void nothing_known_is_unknown_and_no_days_are_no_ratio() throws Exception {
    JsonNode december = part(get("/$unit-report?start=2025-12&end=2025-12"), "month");
    assertThat(value(december, "patientDays")).isEqualTo("0");
    assertThat(value(december, "utilisationRatio")).isEqualTo("not-applicable");
    assertThat(value(december, "confirmedCauti")).isEqualTo("unknown");
    assertThat(value(december, "rate")).isEqualTo("unknown");
    assertThat(value(december, "sir", "withheld"))
        .isEqualTo("No confirmed count of events is known.");
  }

  @Test
  void the_report_is_valid_R4_with_the_extension_in_its_place() {
    HapiProfileValidator validator = SharedValidator.WARM;
    assertThat(validator.validate(report.toString().getBytes(StandardCharsets.UTF_8)))
        .filteredOn(Finding::isError)
        .isEmpty();
  }
}
