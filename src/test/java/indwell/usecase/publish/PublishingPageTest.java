package indwell.usecase.publish;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import indwell.adapter.store.memory.MemoryStore;
import indwell.domain.event.BusinessId;
import indwell.fhir.map.ResourceId;
import indwell.port.LaneHold;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Each row of the table of answers in docs/publishing.md: one resource of one patient gets that
 * answer, and what is said there comes of it, for that patient and for another one.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PublishingPageTest {
  private static final String ENCOUNTER = encounter("one");
  private static final String OTHER = encounter("two");

  /** What comes of an answer, and the words that the page has for it. */
  private enum Outcome {
    TAKEN("taken"),
    LANE_WAITS("lane"),
    ALL_WAIT("all lanes wait"),
    PARKED("parked"),
    CONNECTION_PARKED("the connection is parked");

    private final String words;

    Outcome(String words) {
      this.words = words;
    }
  }

  private record Row(List<Fault> faults, boolean tryingAgain, Outcome outcome) {}

  private static final Map<String, Row> ROWS = new LinkedHashMap<>();

  static {
    row("2xx", Outcome.TAKEN);
    row(
        "2xx with an OperationOutcome of severity error or fatal",
        Outcome.PARKED,
        Fault.outcome(200, "business-rule", "No."));
    row(
        "2xx that breaks off, or no answer in time",
        Outcome.LANE_WAITS,
        Fault.of(Fault.How.DONE_AND_CUT),
        Fault.of(Fault.How.SILENCE),
        Fault.of(Fault.How.DONE_AND_DRIPPING));
    row("2xx that is no FHIR (the page of a proxy)", Outcome.ALL_WAIT, Fault.html(200));
    row(
        "3xx",
        Outcome.CONNECTION_PARKED,
        Fault.status(302, "Location", "http://127.0.0.1:1/fhir"),
        Fault.status(308, "Location", "/fhir/Encounter/other"));
    row("401", Outcome.ALL_WAIT, Fault.status(401));
    row("404, 410", Outcome.PARKED, Fault.status(404), Fault.status(410));
    row(
        "408, 425, 5xx without 501, 503 and 505",
        Outcome.LANE_WAITS,
        Fault.status(408),
        Fault.status(425),
        Fault.status(500),
        Fault.html(502),
        Fault.status(504));
    row("409, 412", Outcome.LANE_WAITS, Fault.status(409), Fault.status(412));
    ROWS.put(
        "400, 422 that name a reference of the resource",
        new Row(
            List.of(
                Fault.outcome(400, "processing", "No " + patient("one") + " is known here."),
                Fault.outcome(422, "invalid", "No " + patient("one") + " is known here.")),
            true,
            Outcome.PARKED));
    row(
        "429, 503",
        Outcome.ALL_WAIT,
        Fault.status(429, "Retry-After", "3600"),
        Fault.status(503),
        Fault.status(503, "Retry-After", "Fri, 31 Dec 2099 23:59:59 GMT"));
    row(
        "501, 505, other 4xx",
        Outcome.PARKED,
        Fault.status(501),
        Fault.status(505),
        Fault.status(403),
        Fault.status(413));
  }

  private static void row(String answer, Outcome outcome, Fault... faults) {
    ROWS.put(answer, new Row(List.of(faults), false, outcome));
  }

  private static String patient(String name) {
    return ResourceId.patient(new BusinessId("urn:p", name)).text();
  }

  private static String encounter(String name) {
    return ResourceId.encounter(new BusinessId("urn:p", name), new BusinessId("urn:s", name))
        .text();
  }

  private static String admission(String name) {
    return """
        {"source":"page","eventId":"%1$s","type":"patient-admitted",
         "occurredAt":"2026-05-01T08:00:00Z","patient":{"system":"urn:p","value":"%1$s"},
         "encounter":{"system":"urn:s","value":"%1$s"},"details":{"ward":"W-1"}}"""
        .formatted(name);
  }

  /** The two cells of each row of the table of answers. */
  private static Map<String, String> page() throws IOException {
    String section =
        Files.readString(Path.of("docs/publishing.md"))
            .split("## What comes of an answer")[1]
            .split("\n## ")[0];
    Map<String, String> rows = new LinkedHashMap<>();
    section
        .lines()
        .filter(line -> line.startsWith("| ") && !line.startsWith("| answer "))
        .map(line -> line.split(" \\| |^\\| | \\|$"))
        .forEach(cells -> rows.put(cells[1].trim(), cells[2].trim()));
    return rows;
  }

  @Test
  void every_row_of_the_page_is_run_and_says_what_comes_of_it() throws IOException {
    Map<String, String> page = page();
    assertThat(page.keySet()).containsExactlyElementsOf(ROWS.keySet());
    page.forEach(
        (answer, text) -> assertThat(text).as(answer).contains(ROWS.get(answer).outcome().words));
  }

  static Stream<Arguments> answers() {
    return ROWS.entrySet().stream()
        .flatMap(
            row ->
                row.getValue().faults().stream()
                    .map(fault -> Arguments.of(row.getKey(), fault, row.getValue())));
  }

  @ParameterizedTest(name = "{0}: {1}")
  @MethodSource("answers")
  void what_the_page_says_comes_of_it(String answer, Fault fault, Row row) throws Exception {
    try (Bench bench = new Bench(new MemoryStore(), Addressing.OURS)) {
      bench.record(List.of(admission("one"), admission("two")));
      bench.hospital.script =
          request -> request.path().contains(ENCOUNTER) ? Optional.of(fault) : Optional.empty();
      Publisher publisher = row.tryingAgain() ? bench.unstarted(3) : bench.patient(3);
      try (Publishing publishing =
          new Publishing(
              bench.outbox(), Optional.of(publisher), bench.hospital.base(), Clock.systemUTC())) {
        publishing.start();
        await().untilAsserted(() -> assertThat(outcome(publishing)).isEqualTo(row.outcome()));
        if (row.outcome() == Outcome.PARKED || row.outcome() == Outcome.LANE_WAITS) {
          await().until(() -> bench.hospital.versions().containsKey(OTHER));
        }
      }
    }
  }

  private static Outcome outcome(Publishing publishing) {
    Publishing.Status status = publishing.status();
    Optional<LaneHold> connection = status.connection();
    if (connection.isPresent()) {
      return connection.get().parked() ? Outcome.CONNECTION_PARKED : Outcome.ALL_WAIT;
    }
    if (status.standing().isEmpty()) {
      return Outcome.TAKEN;
    }
    return status.parked() > 0 ? Outcome.PARKED : Outcome.LANE_WAITS;
  }

  @Test
  void what_is_taken_is_there() throws Exception {
    try (Bench bench = new Bench(new MemoryStore(), Addressing.OURS)) {
      bench.record(List.of(admission("one"), admission("two")));
      bench.publisher(3);
      PublishingTest.drained(bench);
      assertThat(bench.hospital.versions()).containsKeys(ENCOUNTER, OTHER);
    }
  }
}
