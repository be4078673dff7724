package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Stream;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * What is said of a patient is neither in the log nor in the audit trail: things that occur nowhere
 * else are sent by every route, in good and in bad requests, and both are searched for them
 * afterwards.
 */
@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class CanaryIT {
  private static final String NUMBER = "Qz7Canary-Number";
  private static final String STAY = "Qz7Canary-Stay";
  private static final String NAME = "Qz7canary Name";
  private static final String CATHETER = "Qz7Canary-Catheter";
  private static final String VOLUME = "1733.291";
  private static final String TOKEN = "eyJ.Qz7Canary-Token.sig";

  /** To the millisecond, so that it is the time of nothing else. */
  private static final String TIME =
      Instant.now()
          .minus(2, ChronoUnit.HOURS)
          .truncatedTo(ChronoUnit.SECONDS)
          .plusMillis(219)
          .toString();

  @TempDir Path data;

  private final HttpClient client =
      HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).build();

  private static String event(String id, String type, String details) {
    return """
        {"source":"canary","eventId":"%s","type":"%s","occurredAt":"%s",\
        "patient":{"system":"urn:canary","value":"%s"},\
        "encounter":{"system":"urn:canary:stay","value":"%s"},\
        "recorder":{"system":"urn:canary:staff","value":"%s"},"details":%s}"""
        .formatted(id, type, TIME, NUMBER, STAY, NAME, details);
  }

  private static List<String> goodEvents() {
    return List.of(
        event("1", "patient-admitted", "{\"ward\":\"A-1\"}"),
        event(
            "2",
            "catheter-inserted",
            "{\"catheterId\":\"%s\",\"route\":\"urethral\",\"sizeCh\":16,\"indication\":\"other\",\"indicationText\":\"%s\"}"
                .formatted(CATHETER, NAME)));
  }

  private static List<String> badBodies() {
    String good = goodEvents().get(1);
    return List.of(
        good.substring(0, good.length() - 1),
        good.replace("\"details\"", "\"" + NAME + "\""),
        good.replace("\"sizeCh\":16", "\"sizeCh\":" + VOLUME),
        good.replace(TIME, "2026-13-45 " + NAME),
        good.replace("urn:canary\"", NAME + "\""),
        "{\"" + NAME + "\":\"" + NUMBER + "\",\"" + NAME + "\":1}",
        "\"" + NAME + "\"",
        NAME,
        "[" + good + "," + NAME + "]",
        "{\"resourceType\":\"Patient\",\"name\":[{\"family\":\"" + NAME + "\"}],\"x\":1}",
        "{\"resourceType\":\"" + NAME.replace(' ', '-') + "\"}",
        "{\"resourceType\":\"Bundle\",\"type\":\"transaction\",\"entry\":[{\"resource\":"
            + "{\"resourceType\":\"Observation\",\"valueQuantity\":{\"value\":"
            + VOLUME
            + "},"
            + "\"subject\":{\"reference\":\"Patient?identifier=urn:canary|"
            + NUMBER
            + "\"}},"
            + "\"request\":{\"method\":\"POST\",\"url\":\"Observation\"}}]}",
        "{\"resourceType\":\"Parameters\",\"parameter\":[{\"name\":\""
            + NAME
            + "\",\"valueString\":\""
            + NUMBER
            + "\"}]}",
        "x=" + URLEncoder.encode(NAME, StandardCharsets.UTF_8));
  }

  private static List<String> addresses() {
    String value = URLEncoder.encode("urn:canary|" + NUMBER, StandardCharsets.UTF_8);
    String name = URLEncoder.encode(NAME, StandardCharsets.UTF_8).replace("+", "%20");
    return List.of(
        "/events",
        "/events?patient=" + value,
        "/fhir",
        "/fhir/metadata?x=" + name,
        "/fhir/Patient?identifier=" + value,
        "/fhir/Patient?" + name + "=1",
        "/fhir/Patient/" + NUMBER,
        "/fhir/Patient/" + name,
        "/fhir/Patient/" + NUMBER + "/_history/1",
        "/fhir/Patient/_search",
        "/fhir/Patient/_history?_since=" + name,
        "/fhir/Procedure?patient.identifier=" + value + "&date=" + TIME,
        "/fhir/Procedure?identifier=" + value,
        "/fhir/Procedure/" + NUMBER,
        "/fhir/Observation?date=" + name,
        "/fhir/Observation",
        "/fhir/Patient/$validate",
        "/fhir/Patient/" + NUMBER + "/$catheter-days?asOf=" + name,
        "/fhir/$overdue?ward=" + name,
        "/fhir/$device-days?start=" + name + "&end=" + TIME,
        "/fhir/$unit-report?start=" + name,
        "/fhir/Location/" + NUMBER + "/$device-days",
        "/fhir/Location/" + NUMBER,
        "/fhir/$export?_typeFilter="
            + URLEncoder.encode("Patient?identifier=" + NUMBER, StandardCharsets.UTF_8),
        "/fhir/$export/" + NUMBER,
        "/fhir/$export/" + NUMBER + "/Patient.ndjson",
        "/fhir/" + name,
        "/publishing",
        "/publishing?resource=" + value,
        "/publishing/parked/Patient/" + NUMBER + "/$release",
        "/publishing/parked/Patient/" + name + "/$skip",
        "/publishing/" + name,
        "/metrics?x=" + name,
        "/metrics/" + NUMBER,
        "/surveillance",
        "/surveillance/candidates",
        "/surveillance/" + name + "/2026-02",
        "/surveillance/A-1/" + name,
        "/?ward=" + name,
        "/wards/" + name + "?ahead=" + name,
        "/wards/A-1/record",
        "/wards/A-1/take-back",
        "/recorder",
        "/patients/" + NUMBER,
        "/insertions/" + NUMBER,
        "/report?month=" + name,
        "/wards/" + NUMBER + "/report.csv?month=" + name,
        "/login?to=" + name,
        "/login/callback?code=" + name + "&state=" + name,
        "/" + name);
  }

  private int ask(RunningService service, String method, String address, String type, String body)
      throws Exception {
    HttpRequest request =
        HttpRequest.newBuilder(service.uri(address))
            .method(
                method,
                method.equals("GET") ? BodyPublishers.noBody() : BodyPublishers.ofString(body))
            .header("Content-Type", type)
            .header("Authorization", "Bearer " + TOKEN)
            .header("If-None-Exist", "identifier=urn:canary|" + NUMBER)
            .header("Cookie", "indwell-recorder=" + NUMBER + "; indwell-session=" + NUMBER)
            .header("X-Request-Id", NUMBER)
            .header("traceparent", "00-" + NUMBER + "-00f067aa0ba902b7-01")
            .build();
    return client.send(request, BodyHandlers.discarding()).statusCode();
  }

  /** Every address by every method; each body in turn, as it may be said to be. */
  private List<Integer> askAll(RunningService service) throws Exception {
    List<String> bodies = Stream.concat(goodEvents().stream(), badBodies().stream()).toList();
    List<String> types =
        List.of(
            "application/json",
            "application/fhir+json",
            "application/x-ndjson",
            "application/x-www-form-urlencoded",
            "text/" + NUMBER);
    List<Integer> statuses = new ArrayList<>();
    int turn = 0;
    for (String address : addresses()) {
      for (String method : List.of("GET", "POST", "PUT", "DELETE", "PATCH")) {
        for (int i = 0; i < (method.equals("GET") ? 1 : 3); i++) {
          statuses.add(
              ask(
                  service,
                  method,
                  address,
                  types.get(turn % types.size()),
                  bodies.get(turn++ % bodies.size())));
        }
      }
    }
    for (String body : bodies) {
      for (String type : types) {
        statuses.add(ask(service, "POST", "/events", type, body));
        statuses.add(ask(service, "POST", "/fhir", type, body));
        statuses.add(ask(service, "POST", "/fhir/Patient/$validate", type, body));
        statuses.add(ask(service, "POST", "/surveillance/candidates", type, body));
      }
    }
    return statuses;
  }

  private static void assertSilent(String log) {
    assertThat(log).contains("Listening on");
    String said = log.toLowerCase(Locale.ROOT);
    for (String canary : List.of("qz7canary", "qz7", VOLUME, TIME)) {
      assertThat(said).doesNotContain(canary.toLowerCase(Locale.ROOT));
    }
  }

  /** With every line that there can be, each of them an object. */
  @Test
  void nothing_that_is_said_of_a_patient_is_in_the_log() throws Exception {
    try (RunningService service =
        RunningService.start(
            Map.of(
                "INDWELL_DATA_DIR",
                data.toString(),
                "INDWELL_ACCESS_LOG",
                "true",
                "QUARKUS_LOG_CONSOLE_JSON_ENABLED",
                "true"))) {
      for (String body : goodEvents()) {
        assertThat(service.postEvent(body).statusCode()).isEqualTo(201);
      }
      assertThat(askAll(service)).allMatch(status -> status < 500 || status == 501);
      assertThat(service.get("/fhir/Patient?identifier=urn:canary%7C" + NUMBER).body())
          .contains(NUMBER);

      String patient = patientId(service);
      service.get("/fhir/Patient/" + patient);
      service.get("/fhir/Procedure?patient=" + patient + "&identifier=4711");
      service.get("/patients/" + patient);
      AuditCanaries trail = new AuditCanaries(List.of("qz7", VOLUME), TIME);
      trail.assertSilentRows(data, patient);
      trail.assertSilentAnswers(service, patient);

      // When the store is gone, what fails speaks of what it was about.
      try (Stream<Path> files = Files.list(data)) {
        for (Path file : files.filter(Files::isRegularFile).toList()) {
          Files.delete(file);
        }
      }
      for (String body : goodEvents()) {
        service.postEvent(body.replace("\"source\":\"canary\"", "\"source\":\"canary-2\""));
      }
      service.get("/fhir/Patient?identifier=urn:canary%7C" + NUMBER);
      service.get("/patients/" + NUMBER);
      String id = service.get("/fhir/metadata").headers().firstValue("X-Request-Id").orElse("none");

      Awaitility.await().until(() -> service.log().contains("\"requestId\":\"" + id + "\""));
      assertSilent(service.log());
      assertObjects(service.log(), id);
    }
  }

  private String patientId(RunningService service) throws Exception {
    return new ObjectMapper()
        .readTree(service.get("/fhir/Patient?identifier=urn:canary%7C" + NUMBER).body())
        .at("/entry/0/resource/id")
        .asText();
  }

  /** Lines are objects, and that of a request has its ids as fields and no path. */
  private static void assertObjects(String log, String id) throws Exception {
    List<JsonNode> lines = new ArrayList<>();
    for (String line : log.lines().toList()) {
      lines.add(new ObjectMapper().readTree(line));
    }
    assertThat(lines)
        .allSatisfy(
            line -> assertThat(line.fieldNames()).toIterable().contains("timestamp", "level"));
    JsonNode last =
        lines.stream()
            .filter(line -> line.at("/mdc/requestId").asText().equals(id))
            .findFirst()
            .orElseThrow();
    assertThat(last.get("loggerName").asText()).isEqualTo("indwell.access");
    assertThat(last.at("/mdc/traceId").asText()).matches("[0-9a-f]{32}");
    assertThat(last.get("message").asText()).matches("GET fhir 200 in \\d+ ms, .*");
  }

  /** An issuer that nobody is at: whatever is sent is refused, and the refusal is silent too. */
  @Test
  void no_token_is_in_the_log() throws Exception {
    try (RunningService service =
        RunningService.start(
            Map.of(
                "INDWELL_DATA_DIR",
                data.toString(),
                "INDWELL_ISSUER",
                "http://127.0.0.1:1/issuer",
                "INDWELL_AUDIENCE",
                "https://canary.example",
                "INDWELL_LOGIN_CLIENT_ID",
                "pages",
                "INDWELL_LOGIN_CLIENT_SECRET",
                "Qz7Canary-Secret"))) {
      assertThat(askAll(service))
          .allMatch(status -> status < 500 || status == 503)
          .filteredOn(status -> status == 201 || status == 202)
          .isEmpty();

      assertSilent(service.log());
      new AuditCanaries(List.of("qz7", VOLUME), TIME).assertSilentRows(data, "");
    }
  }
}
