package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.net.http.HttpResponse;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Operations and the CapabilityStatement (contract, section 3). */
@DisplayNameGeneration(ReplaceUnderscores.class)
class FhirOperationsTest {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static FhirServer server;
  private static String patient;

  @BeforeAll
  static void start() throws Exception {
    server = new FhirServer();
    server.recordStay();
    patient = get("/Patient").at("/entry/0/resource/id").asText();
  }

  @AfterAll
  static void stop() throws Exception {
    server.close();
  }

  private static JsonNode get(String path) throws Exception {
    HttpResponse<String> response = server.get(path);
    assertThat(response.statusCode()).as(response.body()).isEqualTo(200);
    return JSON.readTree(response.body());
  }

  private static JsonNode post(String path, String parameters) throws Exception {
    HttpResponse<String> response =
        server.post(
            path,
            "application/fhir+json",
            "{\"resourceType\":\"Parameters\",\"parameter\":[" + parameters + "]}");
    assertThat(response.statusCode()).as(response.body()).isEqualTo(200);
    return JSON.readTree(response.body());
  }

  /** Of the recorded stay: present at midnight from 2 March on, with the catheter. */
  @Test
  void device_days_are_counted_by_ward_and_date_as_csv() throws Exception {
    HttpResponse<String> response =
        server.get("/$device-days?start=2026-02-28&end=2026-03-02", "Accept", "text/csv");
    assertThat(response.headers().firstValue("Content-Type")).hasValue("text/csv");
    assertThat(response.body())
        .isEqualTo(
            "date,ward,patient_days,catheter_days\r\n"
                + "2026-02-28,A-1,0,0\r\n2026-03-01,A-1,0,0\r\n2026-03-02,A-1,1,1\r\n");
  }

  @Test
  void device_days_are_reported_by_ward_and_month() throws Exception {
    JsonNode bundle = get("/$device-days?start=2026-02-15&end=2026-03-10");
    assertThat(bundle.get("type").asText()).isEqualTo("collection");
    assertThat(bundle.get("entry")).hasSize(4);
    JsonNode february = bundle.at("/entry/0/resource");
    assertThat(february.at("/period/start").asText()).isEqualTo("2026-02-15");
    assertThat(february.at("/period/end").asText()).isEqualTo("2026-02-28");
    assertThat(february.at("/group/0/measureScore").has("value")).isFalse();
    JsonNode march = bundle.at("/entry/1/resource");
    assertThat(march.at("/period/end").asText()).isEqualTo("2026-03-10");
    assertThat(march.at("/group/0/population/0/count").asInt()).isEqualTo(9);
    assertThat(march.at("/group/0/population/1/count").asInt()).isEqualTo(9);
    assertThat(bundle.at("/entry/2/resource/resourceType").asText()).isEqualTo("Location");
    assertThat(bundle.at("/entry/3/resource/resourceType").asText()).isEqualTo("Measure");
  }

  @Test
  void an_operation_answers_parameters_as_it_answers_a_query() throws Exception {
    String dates =
        "{\"name\":\"start\",\"valueDate\":\"2026-03-01\"},"
            + "{\"name\":\"end\",\"valueDate\":\"2026-03-02\"}";
    assertThat(post("/Location/A-1/$device-days", dates))
        .isEqualTo(get("/Location/A-1/$device-days?start=2026-03-01&end=2026-03-02"));
    String asOf = "{\"name\":\"asOf\",\"valueDateTime\":\"2026-03-03T12:00:00+01:00\"}";
    assertThat(post("/$overdue", asOf)).isEqualTo(get("/$overdue?asOf=2026-03-03T11:00:00Z"));
  }

  @Test
  void catheter_days_have_a_day_for_every_date_of_the_stay() throws Exception {
    JsonNode parameters =
        get("/Patient/" + patient + "/$catheter-days?asOf=2026-03-03T12:00:00+01:00");
    JsonNode all = parameters.get("parameter");
    assertThat(all.get(0).get("valueDateTime").asText()).isEqualTo("2026-03-03T12:00:00+01:00");
    assertThat(all).hasSize(6);
    JsonNode third = all.get(3);
    assertThat(third.at("/part/0/valueDate").asText()).isEqualTo("2026-03-03");
    assertThat(third.at("/part/1/valuePositiveInt").asInt()).isEqualTo(3);
    assertThat(third.at("/part/2/valueBoolean").asBoolean()).isTrue();
    assertThat(third.at("/part/3/valueBoolean").asBoolean()).isTrue();
    assertThat(third.at("/part/4/valueString").asText()).isEqualTo("A-1");
    assertThat(all.get(4).get("name").asText()).isEqualTo("openSince");
    assertThat(all.get(5).get("valuePositiveInt").asInt()).isEqualTo(3);
  }

  @Test
  void overdue_flags_name_patient_and_device_and_bring_them_along() throws Exception {
    JsonNode bundle = get("/$overdue?asOf=2026-03-03T12:00:00Z&ward=A-1");
    Set<String> types = new HashSet<>();
    Set<String> codes = new HashSet<>();
    for (JsonNode entry : bundle.get("entry")) {
      types.add(entry.at("/resource/resourceType").asText());
      codes.add(entry.at("/resource/code/coding/0/code").asText());
      assertThat(entry.get("fullUrl").asText()).startsWith(server.base());
    }
    assertThat(types).containsExactlyInAnyOrder("Flag", "Patient", "Device");
    assertThat(codes)
        .contains("need-review-overdue", "output-charting-overdue", "care-check-overdue");
  }

  @ParameterizedTest
  @CsvSource({
    "/$overdue?asOf=yesterday, yesterday",
    "/$overdue?asOf=2026-03-03T12:00:00, 2026-03-03T12:00:00",
    "/$overdue?asOf=2026-03-13T12:00:01Z, 2026-03-13T12:00:01Z",
    "/$overdue?asOf=, RFC 3339",
    "/$overdue?ward=A-1&ward=A-1, twice",
    "/$overdue?from=x, from",
    "/$device-days?end=2026-03-01, start",
    "/$device-days?start=2026-03-01, end",
    "/$device-days?start=2026-3-1&end=2026-03-02, 2026-3-1",
    "/$device-days?start=2026-02-30&end=2026-03-02, 2026-02-30",
    "/$device-days?start=2026-03-02&end=2026-03-01, before",
    "/$device-days?start=2010-01-01&end=2026-03-01, 3660",
    "/$device-days?start=2026-03-01&end=2026-03-11, 2026-03-11"
  })
  void a_parameter_that_cannot_be_is_named(String path, String named) throws Exception {
    HttpResponse<String> response = server.get(path);
    assertThat(response.statusCode()).as(response.body()).isEqualTo(400);
    assertThat(JSON.readTree(response.body()).at("/issue/0/diagnostics").asText())
        .contains(named)
        .contains("expected");
  }

  @Test
  void a_time_after_now_is_refused_for_catheter_days() throws Exception {
    assertThat(
            server
                .get("/Patient/" + patient + "/$catheter-days?asOf=2026-03-10T12:00:01Z")
                .statusCode())
        .isEqualTo(400);
  }

  @Test
  void a_plus_that_became_a_space_is_read_as_a_plus() throws Exception {
    assertThat(get("/$overdue?asOf=2026-03-03T12:00:00+01:00"))
        .isEqualTo(get("/$overdue?asOf=2026-03-03T12:00:00%2B01:00"));
  }

  @Test
  void a_validation_answers_200_whether_or_not_the_resource_is_valid() throws Exception {
    HttpResponse<String> good =
        server.post(
            "/Patient/$validate", "application/fhir+json", "{\"resourceType\":\"Patient\"}");
    assertThat(good.statusCode()).isEqualTo(200);
    assertThat(JSON.readTree(good.body()).at("/issue/0/severity").asText())
        .isEqualTo("information");
    HttpResponse<String> bad =
        server.post(
            "/Patient/$validate",
            "application/json",
            "{\"resourceType\":\"Parameters\",\"parameter\":[{\"name\":\"mode\",\"valueCode\":"
                + "\"create\"},{\"name\":\"resource\",\"resource\":{\"resourceType\":\"Patient\","
                + "\"language\":\"flawed\"}}]}");
    assertThat(bad.statusCode()).as(bad.body()).isEqualTo(200);
    assertThat(JSON.readTree(bad.body()).at("/issue/0/diagnostics").asText())
        .isEqualTo("It is flawed.");
  }

  @Test
  void a_stored_resource_can_be_validated() throws Exception {
    assertThat(get("/Patient/" + patient + "/$validate").at("/issue/0/severity").asText())
        .isEqualTo("information");
  }

  @Test
  void a_profile_that_is_not_known_is_an_error_and_never_passed_over() throws Exception {
    String body = "{\"resourceType\":\"Patient\"}";
    HttpResponse<String> known =
        server.post(
            "/Patient/$validate?profile=" + FhirServer.KNOWN_PROFILE,
            "application/fhir+json",
            body);
    assertThat(known.statusCode()).isEqualTo(200);
    HttpResponse<String> unknown =
        server.post("/Patient/$validate?profile=http://nowhere/x", "application/fhir+json", body);
    assertThat(unknown.statusCode()).isEqualTo(422);
    assertThat(unknown.body()).contains("http://nowhere/x");
  }

  @Test
  void what_the_statement_lists_works() throws Exception {
    JsonNode statement = get("/metadata");
    assertThat(statement.get("fhirVersion").asText()).isEqualTo("4.0.1");
    JsonNode rest = statement.at("/rest/0");
    for (JsonNode resource : rest.get("resource")) {
      String type = resource.get("type").asText();
      for (JsonNode interaction : resource.path("interaction")) {
        String code = interaction.get("code").asText();
        // What writes is exercised where it is tested.
        if (!List.of("create", "update", "patch", "delete").contains(code)) {
          assertWorks(type, code);
        }
      }
      for (JsonNode parameter : resource.path("searchParam")) {
        String value = parameter.get("type").asText().equals("date") ? "2026" : "x";
        String query = "/" + type + "?" + parameter.get("name").asText() + "=" + value;
        assertThat(server.get(query).statusCode()).as(query).isEqualTo(200);
      }
    }
    assertThat(rest.get("operation")).hasSize(4);
    for (JsonNode operation : rest.get("operation")) {
      String path = "/$" + operation.get("name").asText();
      String range =
          path.equals("/$unit-report")
              ? "?start=2026-01&end=2026-02"
              : "?start=2026-03-01&end=2026-03-02&asOf=2026-03-02T00:00:00Z";
      assertThat(server.get(path + range, "Prefer", "handling=lenient").statusCode())
          .as(path)
          .isEqualTo(path.equals("/$export") ? 202 : 200);
    }
  }

  private static void assertWorks(String type, String code) throws Exception {
    JsonNode found = get("/" + type);
    String id = found.at("/entry/0/resource/id").asText();
    assertThat(id).as("a stored resource of type " + type).isNotEmpty();
    String path =
        switch (code) {
          case "read" -> "/" + type + "/" + id;
          case "vread" -> "/" + type + "/" + id + "/_history/1";
          case "history-instance" -> "/" + type + "/" + id + "/_history";
          case "history-type" -> "/" + type + "/_history";
          case "search-type" -> "/" + type;
          default -> throw new AssertionError("Untested interaction " + code);
        };
    assertThat(server.get(path).statusCode()).as(path).isEqualTo(200);
  }
}
