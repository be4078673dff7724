package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.nio.file.Files;
import java.nio.file.Path;
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
  @TempDir Path data;

  private static void assertSilent(String log) {
    assertThat(log).contains("Listening on");
    assertThat(log.toLowerCase(Locale.ROOT))
        .doesNotContain(Canaries.TEXTS)
        .doesNotContain(Canaries.DATES);
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
      for (String body : Canaries.goodEvents()) {
        assertThat(service.postEvent(body).statusCode()).isEqualTo(201);
      }
      String patient = Canaries.patientId(service);
      assertThat(new CanaryCaller(service).askAll(patient, 2))
          .allMatch(status -> status < 500 || status == 501);
      assertThat(service.get(Canaries.WHERE_FOUND).body()).contains(Canaries.NUMBER);

      service.get("/fhir/Patient/" + patient);
      service.get("/fhir/Procedure?patient=" + patient + "&identifier=4711");
      service.get("/patients/" + patient);
      AuditCanaries.assertSilentRows(data, patient);
      AuditCanaries.assertSilentAnswers(service, patient);

      // When the store is gone, what fails speaks of what it was about.
      try (Stream<Path> files = Files.list(data)) {
        for (Path file : files.filter(Files::isRegularFile).toList()) {
          Files.delete(file);
        }
      }
      service.postEvent(Canaries.admission("late"));
      service.postEvent(Canaries.insertion("late", "2"));
      service.get(Canaries.WHERE_FOUND);
      service.get("/patients/" + Canaries.NUMBER);
      String id = service.get("/fhir/metadata").headers().firstValue("X-Request-Id").orElse("none");

      Awaitility.await().until(() -> service.log().contains("\"requestId\":\"" + id + "\""));
      assertSilent(service.log());
      assertObjects(service.log(), id);
    }
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
      assertThat(new CanaryCaller(service).askAll(Canaries.NUMBER, 2))
          .allMatch(status -> status < 500 || status == 503)
          .filteredOn(status -> status == 201 || status == 202)
          .isEmpty();

      assertSilent(service.log());
      AuditCanaries.assertSilentRows(data, "");
    }
  }
}
