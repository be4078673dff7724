package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The figures of the packaged service are those of docs/metrics.md, and they count. */
@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class MetricsIT {
  private static final Pattern TYPE =
      Pattern.compile("^# TYPE (indwell_\\w+) (\\w+)$", Pattern.MULTILINE);
  private static final Pattern ROW =
      Pattern.compile("^\\| `(indwell_\\w+)` \\| (\\w+) \\|", Pattern.MULTILINE);

  @TempDir static Path data;

  private static RunningService service;

  @BeforeAll
  static void start() throws Exception {
    service =
        RunningService.start(
            Map.of(
                "INDWELL_DATA_DIR",
                data.toString(),
                "INDWELL_DEMO",
                "true",
                "INDWELL_METRICS_STORE_EVERY",
                "1ms"));
    Awaitility.await().until(() -> scrape().contains("indwell_overdue_flags{"));
  }

  @AfterAll
  static void stop() throws Exception {
    service.close();
  }

  private static String scrape() throws Exception {
    return service.get("/metrics").body();
  }

  /** The sum over all lines of a figure that have those labels. */
  private static double sum(String text, String name, String... labels) {
    return text.lines()
        .filter(line -> line.startsWith(name + "{") || line.startsWith(name + " "))
        .filter(line -> Stream.of(labels).allMatch(line::contains))
        .mapToDouble(line -> Double.parseDouble(line.substring(line.lastIndexOf(' ') + 1)))
        .sum();
  }

  private static Map<String, String> found(Pattern pattern, String text) {
    return pattern
        .matcher(text)
        .results()
        .collect(
            Collectors.toMap(
                one -> one.group(1), one -> one.group(2), (one, other) -> one, TreeMap::new));
  }

  @Test
  void the_page_names_the_figures_of_the_service_and_no_other() throws Exception {
    assertThat(found(ROW, Files.readString(Path.of("docs/metrics.md"))))
        .isEqualTo(found(TYPE, scrape()))
        .hasSizeGreaterThan(12);
  }

  @Test
  void events_are_counted_by_kind_and_outcome() throws Exception {
    String[] labels = {"kind=\"catheter-inserted\"", "outcome=\"recorded\""};
    String before = scrape();
    assertThat(service.postEvent(Events.insertionOfPatient("m1")).statusCode()).isEqualTo(201);
    assertThat(service.postEvent("{}").statusCode()).isEqualTo(422);
    String after = scrape();

    assertThat(sum(after, "indwell_events_total", labels))
        .isEqualTo(sum(before, "indwell_events_total", labels) + 1);
    String[] refused = {"kind=\"unread\"", "outcome=\"refused\""};
    assertThat(sum(after, "indwell_events_total", refused))
        .isEqualTo(sum(before, "indwell_events_total", refused) + 1);
    assertThat(sum(after, "indwell_recording_seconds_count"))
        .isEqualTo(sum(before, "indwell_recording_seconds_count") + 2);
    // Every resource of the insertion was validated, or vouched for by one like it.
    assertThat(
            sum(after, "indwell_validation_seconds_count")
                + sum(after, "indwell_validation_vouched_total"))
        .isGreaterThan(
            sum(before, "indwell_validation_seconds_count")
                + sum(before, "indwell_validation_vouched_total"));
    assertThat(sum(after, "indwell_http_answers_total", "part=\"events\"", "status=\"4xx\""))
        .isEqualTo(
            sum(before, "indwell_http_answers_total", "part=\"events\"", "status=\"4xx\"") + 1);
  }

  private static int bundle(String body) throws Exception {
    return service.post("/fhir", "application/fhir+json", body).statusCode();
  }

  @Test
  void bundles_and_rows_of_the_audit_trail_are_counted() throws Exception {
    String[] done = {"type=\"batch\"", "outcome=\"done\""};
    String[] refused = {"type=\"transaction\"", "outcome=\"refused\""};
    String[] unread = {"type=\"unread\"", "outcome=\"refused\""};
    String read = "\"entry\":[{\"request\":{\"method\":\"GET\",\"url\":\"%s\"}}]}";
    String bundle = "{\"resourceType\":\"Bundle\",\"type\":\"%s\"," + read;
    String before = scrape();
    assertThat(bundle(bundle.formatted("batch", "Patient?_count=1"))).isEqualTo(200);
    assertThat(bundle(bundle.formatted("transaction", "Patient/x"))).isEqualTo(404);
    assertThat(bundle("{}")).isEqualTo(400);
    String after = scrape();

    assertThat(sum(after, "indwell_bundles_total", done))
        .isEqualTo(sum(before, "indwell_bundles_total", done) + 1);
    assertThat(sum(after, "indwell_bundles_total", refused))
        .isEqualTo(sum(before, "indwell_bundles_total", refused) + 1);
    assertThat(sum(after, "indwell_bundles_total", unread))
        .isEqualTo(sum(before, "indwell_bundles_total", unread) + 1);
    // Each was answered, so its row is there.
    assertThat(sum(after, "indwell_audit_rows_total"))
        .isGreaterThanOrEqualTo(sum(before, "indwell_audit_rows_total") + 3);
    assertThat(sum(after, "indwell_audit_waiting")).isZero();
    assertThat(sum(after, "indwell_audit_failed_total")).isZero();
  }

  @Test
  void flags_are_those_of_the_question() throws Exception {
    JsonNode bundle = new ObjectMapper().readTree(service.get("/fhir/$overdue").body());
    long flags =
        bundle.findParents("resourceType").stream()
            .filter(one -> one.get("resourceType").asText().equals("Flag"))
            .count();

    assertThat(flags).isPositive();
    Awaitility.await().until(() -> sum(scrape(), "indwell_overdue_flags") == flags);
  }

  @Test
  void nobody_is_named() throws Exception {
    service.postEvent(Events.insertionOfPatient("Qz7Canary"));
    service.get("/fhir/Patient?identifier=x%7CQz7Canary");
    service.get("/patients/Qz7Canary");

    assertThat(scrape()).doesNotContain("Qz7Canary", "blackbox").contains("jvm_memory_used_bytes");
  }
}
