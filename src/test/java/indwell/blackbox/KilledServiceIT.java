package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.contract.TestPostgres;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What was answered {@code recorded} is there after {@code kill -9}, on both databases. */
@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class KilledServiceIT {
  private static final int CLIENTS = 4;
  private static final int ENOUGH_ACKNOWLEDGED = 60;

  @TempDir Path data;

  @Test
  void every_acknowledged_event_survives_on_the_embedded_database() throws Exception {
    survivesKill(Map.of("INDWELL_DATA_DIR", data.toString()));
  }

  @Test
  void every_acknowledged_event_survives_on_postgresql() throws Exception {
    survivesKill(
        Map.of(
            "INDWELL_DATABASE_URL",
            TestPostgres.newDatabase(),
            "INDWELL_DATABASE_USER",
            TestPostgres.USER,
            "INDWELL_DATABASE_PASSWORD",
            TestPostgres.PASSWORD));
  }

  @Test
  void an_insertion_followed_by_a_kill_within_the_same_second_is_there() throws Exception {
    Map<String, String> environment = Map.of("INDWELL_DATA_DIR", data.toString());
    try (RunningService service = RunningService.start(environment)) {
      assertThat(service.postEvent(Events.insertionOfPatient("once")).statusCode()).isEqualTo(201);
      service.kill();
    }
    try (RunningService again = RunningService.start(environment)) {
      assertFound(again, List.of("once"));
    }
  }

  @Test
  void an_export_that_a_kill_cut_off_is_finished_after_the_next_start() throws Exception {
    Map<String, String> environment =
        Map.of("INDWELL_DATA_DIR", data.toString(), "INDWELL_DEMO", "true");
    String status;
    try (RunningService service = RunningService.start(environment)) {
      HttpResponse<String> kickOff = service.get("/fhir/$export", "Prefer", "respond-async");
      assertThat(kickOff.statusCode()).isEqualTo(202);
      status = kickOff.headers().firstValue("Content-Location").map(URI::create).get().getPath();
      service.kill();
    }
    try (RunningService again = RunningService.start(environment)) {
      JsonNode manifest = finished(again, status);
      for (JsonNode file : manifest.get("output")) {
        String type = file.get("type").asText();
        HttpResponse<String> lines =
            again.get(URI.create(file.get("url").asText()).getPath(), "Accept", "*/*");
        assertThat(lines.body().lines().count()).as(type).isEqualTo(file.get("count").asLong());
      }
      assertThat(manifest.get("output").findValuesAsText("type"))
          .contains("Patient", "Encounter", "Device", "Procedure", "Observation", "Provenance");
      assertThat(manifest.get("error")).isEmpty();
    }
  }

  private static JsonNode finished(RunningService service, String status) throws Exception {
    HttpResponse<String> answer = service.get(status);
    while (answer.statusCode() == 202) {
      TimeUnit.SECONDS.sleep(1);
      answer = service.get(status);
    }
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    return new ObjectMapper().readTree(answer.body());
  }

  private static void survivesKill(Map<String, String> environment) throws Exception {
    List<String> acknowledged;
    try (RunningService service = RunningService.start(environment)) {
      acknowledged = postUntilKilled(service);
    }
    assertThat(acknowledged).hasSizeGreaterThanOrEqualTo(ENOUGH_ACKNOWLEDGED);
    try (RunningService again = RunningService.start(environment)) {
      assertFound(again, acknowledged);
    }
  }

  /** Several clients post without a pause; the service is killed in the middle of it. */
  private static List<String> postUntilKilled(RunningService service) throws Exception {
    ConcurrentLinkedQueue<String> acknowledged = new ConcurrentLinkedQueue<>();
    AtomicInteger next = new AtomicInteger();
    ExecutorService clients = Executors.newFixedThreadPool(CLIENTS);
    for (int i = 0; i < CLIENTS; i++) {
      clients.execute(() -> postUntilRefused(service, next, acknowledged));
    }
    while (acknowledged.size() < ENOUGH_ACKNOWLEDGED) {
      TimeUnit.MILLISECONDS.sleep(5);
    }
    service.kill();
    clients.shutdown();
    assertThat(clients.awaitTermination(30, TimeUnit.SECONDS)).isTrue();
    return List.copyOf(acknowledged);
  }

  private static void postUntilRefused(
      RunningService service, AtomicInteger next, ConcurrentLinkedQueue<String> acknowledged) {
    try {
      while (true) {
        String id = "k" + next.incrementAndGet();
        if (service.postEvent(Events.insertionOfPatient(id)).statusCode() == 201) {
          acknowledged.add(id);
        }
      }
    } catch (IOException killed) {
      // The service is gone, as it should be.
    }
  }

  private static void assertFound(RunningService service, List<String> ids) throws IOException {
    for (String id : ids) {
      String found =
          service
              .get("/fhir/Procedure?identifier=https://indwell.example/fhir/event%7Cblackbox:" + id)
              .body();
      assertThat(found).as("insertion %s", id).contains("\"total\":1").contains("410024004");
    }
  }
}
