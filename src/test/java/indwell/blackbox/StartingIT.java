package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** How the service starts, and when it refuses to. */
@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class StartingIT {
  @TempDir Path data;

  @Test
  void it_refuses_an_address_that_others_can_reach() throws Exception {
    Map.Entry<Integer, String> end =
        RunningService.runToItsEnd(
            Map.of("QUARKUS_HTTP_HOST", "0.0.0.0", "INDWELL_DATA_DIR", data.toString()));
    assertThat(end.getKey()).isNotIn(0, -1);
    assertThat(end.getValue())
        .contains(
            "Address 0.0.0.0 is not a loopback address; expected localhost, 127.0.0.1 or ::1");
  }

  @Test
  void the_bare_jar_starts_with_an_empty_store_and_without_what_makes_traces() throws Exception {
    Path loaded = data.resolve("classes.log");
    try (RunningService service =
        RunningService.start(
            Map.of("INDWELL_DATA_DIR", data.toString()), "-Xlog:class+load:file=" + loaded)) {
      assertThat(service.get("/fhir/Patient?_summary=count").body()).contains("\"total\":0");
      assertThat(service.get("/").statusCode()).isEqualTo(200);
      assertThat(Files.readAllLines(loaded))
          .anyMatch(line -> line.contains("] indwell.boot.traces.Traces "))
          .noneMatch(line -> line.contains("] io.opentelemetry."));
    }
  }

  @Test
  void the_demo_ward_is_there_from_the_first_request_and_is_loaded_once() throws Exception {
    Map<String, String> environment =
        Map.of("INDWELL_DATA_DIR", data.toString(), "INDWELL_DEMO", "true");
    try (RunningService service = RunningService.start(environment)) {
      assertThat(service.get("/fhir/Patient?_summary=count").body()).contains("\"total\":12,");
      assertThat(service.get("/").body()).contains("overdue");
      assertThat(service.get("/fhir/$overdue").body()).contains("low-urine-output");
    }
    try (RunningService again = RunningService.start(environment)) {
      assertThat(again.get("/fhir/Patient?_summary=count").body()).contains("\"total\":12,");
    }
  }
}
