package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.web.RawHttp;
import java.net.http.HttpResponse;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/** Every error is an OperationOutcome (contract, section 3). */
@DisplayNameGeneration(ReplaceUnderscores.class)
class FhirErrorsTest {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final String PATIENT = "{\"resourceType\":\"Patient\"}";
  private static FhirServer server;

  @BeforeAll
  static void start() throws Exception {
    server = new FhirServer();
    server.recordStay();
  }

  @AfterAll
  static void stop() throws Exception {
    server.close();
  }

  private static void assertOutcome(HttpResponse<String> response, int status, String code)
      throws Exception {
    assertThat(response.statusCode()).as(response.body()).isEqualTo(status);
    assertThat(response.headers().firstValue("Content-Type")).hasValue("application/fhir+json");
    JsonNode outcome = JSON.readTree(response.body());
    assertThat(outcome.get("resourceType").asText()).isEqualTo("OperationOutcome");
    assertThat(outcome.at("/issue/0/severity").asText()).isEqualTo("error");
    assertThat(outcome.at("/issue/0/details/coding/0/code").asText()).isEqualTo(code);
  }

  @ParameterizedTest
  @CsvSource({
    "/Patient/unknown",
    "/Medication/x",
    "/Medication",
    "/patient",
    "/Patient/x/y",
    "/Patient/a%2Fb",
    "/Patient/..%2f..%2fetc",
    "/$unknown",
    "/Patient/unknown/_history",
    "/Patient/unknown/$catheter-days",
    "/Location/nowhere/$device-days?start=2026-03-01&end=2026-03-02",
    "/$overdue?ward=nowhere",
    "//Patient"
  })
  void what_is_not_there_is_404(String path) throws Exception {
    assertOutcome(server.get(path), 404, "IND-0100");
  }

  @ParameterizedTest
  @CsvSource({
    "DELETE, /Patient/x, 'GET, HEAD'",
    "PUT, /Patient/x, 'GET, HEAD'",
    "POST, /Patient, 'GET, HEAD'",
    "PATCH, /metadata, 'GET, HEAD'",
    "PUT, /$overdue, 'GET, POST, HEAD'",
    "GET, /Patient/$validate, POST",
    "GET, /, POST",
    "OPTIONS, /Patient, 'GET, HEAD'"
  })
  void a_method_that_is_not_allowed_is_405(String method, String path, String allowed)
      throws Exception {
    HttpResponse<String> response = server.send(method, path);
    assertOutcome(response, 405, "IND-0101");
    assertThat(response.headers().firstValue("Allow")).hasValue(allowed);
  }

  @ParameterizedTest
  @CsvSource({
    "application/fhir+xml",
    "text/html",
    "text/csv",
    "application/fhir+json;q=0",
    "nonsense"
  })
  void a_format_that_is_not_made_is_406(String accept) throws Exception {
    assertOutcome(server.get("/Patient", "Accept", accept), 406, "IND-0102");
  }

  @ParameterizedTest
  @CsvSource({
    "application/fhir+json, application/fhir+json",
    "application/json, application/json",
    "*/*, application/fhir+json",
    "application/*, application/fhir+json",
    "'text/html, */*;q=0.1', application/fhir+json",
    "'application/fhir+xml, application/fhir+json;fhirVersion=4.0', application/fhir+json",
    "'application/json;q=0.9, application/fhir+json;q=0.2', application/json"
  })
  void a_format_that_is_made_is_given(String accept, String given) throws Exception {
    HttpResponse<String> response = server.get("/Patient", "Accept", accept);
    assertThat(response.statusCode()).isEqualTo(200);
    assertThat(response.headers().firstValue("Content-Type")).hasValue(given);
  }

  @ParameterizedTest
  @CsvSource({
    "json, application/fhir+json",
    "application/fhir%2Bjson, application/fhir+json",
    "application/fhir+json, application/fhir+json",
    "application/json, application/json"
  })
  void the_parameter_for_the_format_goes_before_the_header(String format, String given)
      throws Exception {
    HttpResponse<String> response = server.get("/Patient?_format=" + format, "Accept", "text/html");
    assertThat(response.statusCode()).as(response.body()).isEqualTo(200);
    assertThat(response.headers().firstValue("Content-Type")).hasValue(given);
  }

  @Test
  void xml_is_406_by_the_parameter_as_well() throws Exception {
    assertOutcome(server.get("/Patient?_format=xml"), 406, "IND-0102");
  }

  @ParameterizedTest
  @CsvSource({"text/plain", "application/xml", "application/fhir+xml", "application/x-ndjson"})
  void a_body_of_another_media_type_is_415(String type) throws Exception {
    assertOutcome(server.post("/Patient/$validate", type, PATIENT), 415, "IND-0006");
  }

  @Test
  void a_body_that_is_too_large_is_413() throws Exception {
    try (RawHttp http = new RawHttp(server.port())) {
      RawHttp.Answer answer =
          http.send(
                  "POST /fhir/Patient/$validate HTTP/1.1\r\nHost: a\r\n"
                      + "Content-Type: application/fhir+json\r\nContent-Length: 99999999\r\n\r\n")
              .answer();
      assertThat(answer.status()).isEqualTo(413);
      assertThat(answer.head().header("Content-Type")).isEqualTo("application/fhir+json");
      assertThat(answer.body()).contains("OperationOutcome", "IND-0004");
    }
  }

  @Test
  void a_dollar_sign_may_be_escaped() throws Exception {
    assertThat(server.get("/%24overdue").statusCode()).isEqualTo(200);
    assertThat(
            server.get("/Location/A-1/%24device-days?start=2026-03-01&end=2026-03-02").statusCode())
        .isEqualTo(200);
  }

  @Test
  void links_name_the_address_that_the_caller_used() throws Exception {
    try (RawHttp http = new RawHttp(server.port())) {
      RawHttp.Answer answer =
          http.send("GET /fhir/Patient HTTP/1.1\r\nHost: ward.example:8080\r\n\r\n").answer();
      assertThat(JSON.readTree(answer.body()).at("/link/0/url").asText())
          .isEqualTo("http://ward.example:8080/fhir/Patient");
    }
  }

  /** Broken bodies, each a trap that usual parsers fall into (RFC 8259). */
  static List<String> brokenBodies() {
    return List.of(
        "",
        "{",
        "[]",
        "null",
        "\"text\"",
        "{}",
        "{\"resourceType\":\"Patient\"} x",
        "{\"resourceType\":\"Patient\",}",
        "{'resourceType':'Patient'}",
        "{\"resourceType\":\"Patient\",\"id\":\"a\",\"id\":\"b\"}",
        "{\"resourceType\":\"Patient\",\"resourceType\":\"Patient\"}",
        "{\"resourceType\":\"Patient\",\"multipleBirthInteger\":1e1000000}",
        "{\"resourceType\":\"Patient\",\"multipleBirthInteger\":NaN}",
        "{\"resourceType\":\"Patient\",\"multipleBirthInteger\":+1}",
        "{\"resourceType\":\"Patient\",\"multipleBirthInteger\":01}",
        "{\"resourceType\":1}",
        "{\"resourceType\":\"Observation\"}",
        "\uFEFF{\"resourceType\":\"Patient\"}",
        "{\"resourceType\":\"Patient\",\"x\":" + "[".repeat(300) + "]".repeat(300) + "}",
        "{\"resourceType\":\"Patient\",\"x\":"
            + "{\"x\":".repeat(5000)
            + "1"
            + "}".repeat(5000)
            + "}",
        "<Patient xmlns=\"http://hl7.org/fhir\"/>",
        "{\"resourceType\":\"Parameters\",\"parameter\":[{\"name\":\"resource\",\"valueString\":\"x\"}]}");
  }

  @ParameterizedTest
  @MethodSource("brokenBodies")
  void a_broken_body_is_400_and_never_500(String body) throws Exception {
    HttpResponse<String> response =
        server.post("/Patient/$validate", "application/fhir+json", body);
    assertThat(response.statusCode()).as(response.body()).isEqualTo(400);
    JsonNode outcome = JSON.readTree(response.body());
    assertThat(outcome.get("resourceType").asText()).isEqualTo("OperationOutcome");
    assertThat(outcome.at("/issue/0/diagnostics").asText()).contains("expected");
  }
}
