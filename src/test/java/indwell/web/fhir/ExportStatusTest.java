package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.adapter.store.memory.MemoryExportJobs;
import indwell.adapter.store.memory.MemoryStore;
import indwell.port.ClinicalStore;
import indwell.port.ExportJobs;
import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** From the kick-off to the last file (FHIR Bulk Data 3.0.0, status, output file and delete). */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ExportStatusTest {
  private static final ObjectMapper JSON = new ObjectMapper();

  @TempDir Path folder;

  private ExportServer open() throws Exception {
    return open(new MemoryStore(), new MemoryExportJobs(), new ExportServer.HandClock());
  }

  private ExportServer open(ClinicalStore store, ExportJobs jobs, ExportServer.HandClock clock)
      throws Exception {
    return new ExportServer(store, jobs, folder, ExportServer.LIMITS, clock);
  }

  @Test
  void while_it_runs_the_status_says_how_far_it_is_and_when_to_ask_again() throws Exception {
    try (StuckStore store = new StuckStore();
        ExportServer server = new ExportServer(store, new MemoryExportJobs(), folder)) {
      String status = server.begin("/$export");
      store.awaitExport();
      HttpResponse<String> answer = server.http.get(status);
      assertThat(answer.statusCode()).isEqualTo(202);
      assertThat(answer.headers().firstValue("Retry-After")).contains("1");
      assertThat(answer.headers().firstValue("X-Progress").orElseThrow())
          .isEqualTo("0 of 10 resource types, 0 resources")
          .hasSizeLessThan(100);
      assertThat(answer.body()).isEmpty();
      assertThat(server.http.get(server.begin("/$export")).headers().firstValue("X-Progress"))
          .contains("waiting");
      store.release();
      assertThat(server.over(status).statusCode()).isEqualTo(200);
    }
  }

  @Test
  void who_asks_too_often_is_told_to_wait() throws Exception {
    try (StuckStore store = new StuckStore();
        ExportServer server = new ExportServer(store, new MemoryExportJobs(), folder)) {
      String status = server.begin("/$export");
      for (int i = 0; i < PollLimit.AT_ONCE; i++) {
        assertThat(server.http.get(status).statusCode()).isEqualTo(202);
      }
      HttpResponse<String> answer = server.http.get(status);
      assertThat(answer.statusCode()).isEqualTo(429);
      assertThat(answer.headers().firstValue("Retry-After")).contains("1");
      assertThat(answer.body()).contains("OperationOutcome").contains("IND-0271");
      server.clock.forward(Duration.ofSeconds(1));
      assertThat(server.http.get(status).statusCode()).isEqualTo(202);
      store.release();
    }
  }

  @Test
  void when_it_is_finished_the_status_is_the_manifest() throws Exception {
    try (ExportServer server = open()) {
      server.http.recordStay();
      String status = server.begin("/$export?_type=Patient,Encounter&_since=2026-01-01T00:00:00Z");
      HttpResponse<String> answer = server.over(status);
      assertThat(answer.statusCode()).isEqualTo(200);
      assertThat(answer.headers().firstValue("Content-Type")).contains("application/json");
      Instant expires =
          ZonedDateTime.parse(
                  answer.headers().firstValue("Expires").orElseThrow(),
                  DateTimeFormatter.RFC_1123_DATE_TIME)
              .toInstant();
      assertThat(expires)
          .isBetween(
              FhirServer.NOW.plus(Duration.ofHours(1)),
              server.clock.instant().plus(Duration.ofHours(1)));
      JsonNode manifest = JSON.readTree(answer.body());
      assertThat(manifest.fieldNames())
          .toIterable()
          .containsExactly(
              "transactionTime", "request", "requiresAccessToken", "output", "deleted", "error");
      assertThat(manifest.get("transactionTime").textValue()).isEqualTo("2026-03-10T12:00:00Z");
      assertThat(manifest.get("request").textValue())
          .isEqualTo(
              server.http.base() + "/$export?_type=Patient,Encounter&_since=2026-01-01T00:00:00Z");
      assertThat(manifest.get("requiresAccessToken").booleanValue()).isFalse();
      assertThat(manifest.get("deleted")).isEmpty();
      assertThat(manifest.get("error")).isEmpty();
      assertThat(manifest.get("output")).hasSize(2);
      assertThat(manifest.at("/output/0").toString())
          .isEqualTo(
              "{\"type\":\"Encounter\",\"url\":\""
                  + server.http.base()
                  + status
                  + "/Encounter-1.ndjson\",\"count\":1}");
    }
  }

  @Test
  void nothing_found_is_an_empty_list() throws Exception {
    try (ExportServer server = open()) {
      JsonNode manifest = server.manifest(server.begin("/$export"));
      assertThat(manifest.get("output").isArray()).isTrue();
      assertThat(manifest.get("output")).isEmpty();
      assertThat(manifest.get("error").isArray()).isTrue();
      assertThat(manifest.get("error")).isEmpty();
    }
  }

  @Test
  void a_file_is_ndjson_of_one_type_and_as_long_as_its_count() throws Exception {
    try (ExportServer server = open()) {
      server.http.recordStay();
      JsonNode manifest = server.manifest(server.begin("/$export"));
      assertThat(manifest.get("output")).hasSizeGreaterThan(5);
      List<String> provenances = new ArrayList<>();
      for (JsonNode file : manifest.get("output")) {
        HttpResponse<String> answer =
            server.http.get(
                server.below(file.get("url").textValue()), "Accept", "application/fhir+ndjson");
        assertThat(answer.statusCode()).isEqualTo(200);
        assertThat(answer.headers().firstValue("Content-Type")).contains("application/fhir+ndjson");
        assertThat(answer.headers().firstValue("Content-Encoding")).isEmpty();
        assertThat(answer.body()).endsWith("}\n").doesNotContain("\r");
        List<String> lines = answer.body().lines().toList();
        assertThat(lines).hasSize(file.get("count").intValue()).hasSizeLessThanOrEqualTo(3);
        for (String line : lines) {
          JsonNode resource = JSON.readTree(line);
          assertThat(resource.get("resourceType")).isEqualTo(file.get("type"));
          assertThat(resource.at("/meta/lastUpdated").textValue()).isNotEmpty();
          if (file.get("type").textValue().equals("Provenance")) {
            provenances.add(file.get("url").textValue());
          }
        }
      }
      // Four of them at three a file.
      assertThat(provenances).hasSize(4);
      assertThat(provenances.stream().distinct()).hasSize(2);
    }
  }

  @Test
  void a_file_is_not_given_in_a_format_that_it_does_not_have() throws Exception {
    try (ExportServer server = open()) {
      server.http.recordStay();
      JsonNode manifest = server.manifest(server.begin("/$export?_type=Patient"));
      String file = server.below(manifest.at("/output/0/url").textValue());
      assertThat(server.http.get(file, "Accept", "text/csv").statusCode()).isEqualTo(406);
      assertThat(server.http.get(file, "Accept", "*/*").statusCode()).isEqualTo(200);
      HttpResponse<String> head = server.http.send("HEAD", file);
      assertThat(head.statusCode()).isEqualTo(200);
      assertThat(head.headers().firstValueAsLong("Content-Length")).isPresent();
      assertThat(head.headers().firstValueAsLong("Content-Length").getAsLong())
          .isEqualTo(server.http.get(file).body().length());
    }
  }

  @Test
  void only_the_most_recent_version_is_exported() throws Exception {
    try (ExportServer server = open()) {
      server.http.recordStay();
      server.http.record(
          FhirServer.event("e3", "weight-measured", "2026-03-01T10:00:00+01:00", "\"kg\":71")
              .replace("\"eventId\"", "\"version\":2,\"eventId\""));
      Map<String, List<JsonNode>> lines = server.export("/$export");
      assertThat(lines.get("Observation"))
          .filteredOn(one -> one.at("/valueQuantity/unit").textValue().equals("kg"))
          .extracting(
              one -> one.at("/meta/versionId").textValue(),
              one -> one.at("/valueQuantity/value").intValue())
          .containsExactly(org.assertj.core.groups.Tuple.tuple("2", 71));
    }
  }

  @Test
  void what_was_taken_back_is_exported_as_entered_in_error() throws Exception {
    try (ExportServer server = open()) {
      server.http.recordStay();
      server.clock.forward(Duration.ofSeconds(1));
      server.http.record(
          FhirServer.event("e3", "weight-measured", "2026-03-01T10:00:00+01:00", "\"kg\":70")
              .replace("\"eventId\"", "\"version\":2,\"status\":\"entered-in-error\",\"eventId\""));
      JsonNode manifest = server.manifest(server.begin("/$export?_since=" + FhirServer.NOW));
      assertThat(server.lines(manifest, "output").get("Observation"))
          .extracting(one -> one.get("status").textValue())
          .containsExactly("entered-in-error");
      assertThat(manifest.get("deleted")).isEmpty();
    }
  }

  @Test
  void what_is_written_after_the_kick_off_is_not_in_it() throws Exception {
    try (StuckStore store = new StuckStore();
        ExportServer server = new ExportServer(store, new MemoryExportJobs(), folder)) {
      server.http.recordStay();
      String status = server.begin("/$export");
      store.awaitExport();
      server.http.record(
          FhirServer.event("e9", "weight-measured", "2026-03-01T12:00:00+01:00", "\"kg\":75"));
      store.release();
      JsonNode manifest = server.manifest(status);
      assertThat(server.lines(manifest, "output").get("Provenance")).hasSize(4);
      String time = manifest.get("transactionTime").textValue();
      server.clock.forward(Duration.ofMillis(1));
      assertThat(server.export("/$export?_since=" + time).get("Provenance")).hasSize(1);
    }
  }

  @Test
  void a_cancelled_export_stops_and_is_gone() throws Exception {
    try (StuckStore store = new StuckStore();
        ExportServer server = new ExportServer(store, new MemoryExportJobs(), folder)) {
      server.http.recordStay();
      String status = server.begin("/$export");
      store.awaitExport();
      assertThat(server.http.send("DELETE", status).statusCode()).isEqualTo(202);
      gone(server.http.get(status));
      gone(server.http.send("DELETE", status));
      store.release();
      server.manifest(server.begin("/$export?_type=Patient"));
      assertThat(jobFolders()).hasSize(1).doesNotContain(status.substring("/$export/".length()));
    }
  }

  @Test
  void a_removed_export_is_gone_with_its_files() throws Exception {
    try (ExportServer server = open()) {
      server.http.recordStay();
      String status = server.begin("/$export");
      JsonNode manifest = server.manifest(status);
      String file = server.below(manifest.at("/output/0/url").textValue());
      assertThat(server.http.send("DELETE", status).statusCode()).isEqualTo(202);
      gone(server.http.get(status));
      gone(server.http.get(file));
      assertThat(jobFolders()).isEmpty();
    }
  }

  @Test
  void an_export_expires_with_its_files() throws Exception {
    try (ExportServer server = open()) {
      server.http.recordStay();
      String status = server.begin("/$export");
      String file = server.below(server.manifest(status).at("/output/0/url").textValue());
      server.clock.forward(Duration.ofMinutes(59));
      assertThat(server.http.get(file).statusCode()).isEqualTo(200);
      server.clock.forward(Duration.ofMinutes(2));
      gone(server.http.get(status));
      gone(server.http.get(file));
      gone(server.http.send("DELETE", status));
    }
  }

  @Test
  void nothing_but_the_files_of_the_manifest_can_be_fetched() throws Exception {
    try (ExportServer server = open()) {
      server.http.recordStay();
      String status = server.begin("/$export?_type=Patient");
      server.manifest(status);
      Files.writeString(folder.resolve("secret.ndjson"), "{}\n");
      for (String name :
          List.of("Patient-2.ndjson", "..%2Fsecret.ndjson", "%2e%2e", "Patient-1.ndjson.part")) {
        gone(server.http.get(status + "/" + name));
      }
      gone(server.http.get("/$export/owner"));
      gone(server.http.get("/$export/" + "0".repeat(36) + "/Patient-1.ndjson"));
    }
  }

  @Test
  void a_resource_that_cannot_be_exported_is_told_and_leaves_the_others_alone() throws Exception {
    MemoryStore store = new MemoryStore();
    try (ExportServer server = open(store, new MemoryExportJobs(), new ExportServer.HandClock())) {
      server.http.recordStay();
      store.write(
          w -> {
            w.put(stored("bad", "no resource"));
            w.put(stored("bent", "{\"resourceType\":\"Patient\",\n\"id\":\"bent\"\r\n}"));
            return true;
          });
      HttpResponse<String> answer = server.over(server.begin("/$export?_type=Patient"));
      assertThat(answer.statusCode()).isEqualTo(200);
      JsonNode manifest = JSON.readTree(answer.body());
      assertThat(server.lines(manifest, "output").get("Patient")).hasSize(2);
      assertThat(server.lines(manifest, "output").get("Patient"))
          .extracting(JsonNode::toString)
          .contains("{\"resourceType\":\"Patient\",\"id\":\"bent\"}");
      List<JsonNode> errors = server.lines(manifest, "error").get("OperationOutcome");
      assertThat(errors).hasSize(1);
      assertThat(errors.get(0).at("/issue/0/severity").textValue()).isEqualTo("error");
      assertThat(errors.get(0).at("/issue/0/diagnostics").textValue()).contains("Patient/bad");
    }
  }

  @Test
  void an_export_that_cannot_be_written_has_failed() throws Exception {
    try (StuckStore store = new StuckStore();
        ExportServer server = new ExportServer(store, new MemoryExportJobs(), folder)) {
      server.http.recordStay();
      String status = server.begin("/$export?_type=Patient");
      store.awaitExport();
      Path files = folder.resolve(status.substring("/$export/".length()));
      Files.delete(files);
      Files.writeString(files, "in the way");
      store.release();
      HttpResponse<String> answer = server.over(status);
      assertThat(answer.statusCode()).isEqualTo(500);
      assertThat(answer.headers().firstValue("Content-Type")).contains("application/fhir+json");
      assertThat(answer.body()).contains("OperationOutcome").contains("IND-0272");
      Files.delete(files);
    }
  }

  @Test
  void a_store_that_is_away_makes_an_export_wait_and_not_fail() throws Exception {
    try (StuckStore store = new StuckStore();
        ExportServer server = new ExportServer(store, new MemoryExportJobs(), folder)) {
      server.http.recordStay();
      String status = server.begin("/$export");
      store.awaitExport();
      store.releaseAway();
      Thread.sleep(200);
      assertThat(server.http.get(status).statusCode()).isEqualTo(202);
      store.comeBack();
      JsonNode manifest = server.manifest(status);
      server
          .lines(manifest, "output")
          .values()
          .forEach(lines -> assertThat(lines).isNotEmpty().doesNotHaveDuplicates());
    }
  }

  @Test
  void the_status_of_the_export_may_stand_beside_that_of_the_answer() throws Exception {
    try (StuckStore store = new StuckStore();
        ExportServer server = new ExportServer(store, new MemoryExportJobs(), folder)) {
      HttpResponse<String> kickOff =
          server.http.get("/$export", "Prefer", "respond-async, separate-export-status");
      assertThat(kickOff.statusCode()).isEqualTo(202);
      assertThat(kickOff.headers().firstValue("Preference-Applied"))
          .contains("respond-async, separate-export-status");
      String status = server.below(kickOff.headers().firstValue("Content-Location").orElseThrow());
      HttpResponse<String> running = server.http.get(status);
      assertThat(running.statusCode()).isEqualTo(200);
      assertThat(running.headers().firstValue("X-Export-Status")).contains("202 Accepted");
      assertThat(running.headers().firstValue("X-Progress")).isPresent();
      store.release();
      HttpResponse<String> answer = running;
      for (int i = 0; i < 2_000 && answer.body().isEmpty(); i++) {
        Thread.sleep(5);
        server.clock.forward(Duration.ofSeconds(1));
        answer = server.http.get(status);
      }
      assertThat(answer.statusCode()).isEqualTo(200);
      assertThat(answer.headers().firstValue("X-Export-Status")).contains("200 OK");
      assertThat(answer.headers().firstValue("Content-Type")).contains("application/json");
      assertThat(answer.body()).contains("transactionTime");
    }
  }

  @Test
  void a_file_goes_on_when_the_export_is_removed_meanwhile() throws Exception {
    MemoryStore store = new MemoryStore();
    try (ExportServer server = open(store, new MemoryExportJobs(), new ExportServer.HandClock())) {
      String big = "{\"resourceType\":\"Patient\",\"x\":\"" + "x".repeat(20_000_000) + "\"}";
      store.write(
          w -> {
            w.put(stored("big", big));
            return true;
          });
      String status = server.begin("/$export?_type=Patient");
      String file = server.manifest(status).at("/output/0/url").textValue();
      HttpResponse<java.io.InputStream> answer =
          HttpClient.newHttpClient()
              .send(HttpRequest.newBuilder(URI.create(file)).build(), BodyHandlers.ofInputStream());
      assertThat(answer.body().read()).isEqualTo('{');
      assertThat(server.http.send("DELETE", status).statusCode()).isEqualTo(202);
      assertThat(answer.body().readAllBytes()).hasSize(big.length());
    }
  }

  @Test
  void an_unfinished_export_is_taken_up_after_a_restart_with_the_same_time() throws Exception {
    ExportServer.HandClock clock = new ExportServer.HandClock();
    ExportJobs jobs = new MemoryExportJobs();
    try (StuckStore store = new StuckStore()) {
      String status;
      try (ExportServer server = open(store, jobs, clock)) {
        server.http.recordStay();
        status = server.begin("/$export");
        store.awaitExport();
        store.releaseAway();
      }
      Files.createDirectory(folder.resolve("left-over"));
      clock.forward(Duration.ofMinutes(7));
      store.comeBack();
      try (ExportServer server = open(store, jobs, clock)) {
        server.http.record(
            FhirServer.event("e9", "weight-measured", "2026-03-01T12:00:00+01:00", "\"kg\":75"));
        JsonNode manifest = server.manifest(status);
        assertThat(manifest.get("transactionTime").textValue()).isEqualTo("2026-03-10T12:00:00Z");
        assertThat(server.lines(manifest, "output").get("Provenance")).hasSize(4);
        assertThat(jobFolders()).containsExactly(status.substring("/$export/".length()));
      }
    }
  }

  @Test
  void a_finished_export_is_still_there_after_a_restart() throws Exception {
    ExportServer.HandClock clock = new ExportServer.HandClock();
    ExportJobs jobs = new MemoryExportJobs();
    MemoryStore store = new MemoryStore();
    String status;
    JsonNode before;
    try (ExportServer server = open(store, jobs, clock)) {
      server.http.recordStay();
      status = server.begin("/$export");
      before = server.manifest(status);
    }
    try (ExportServer server = open(store, jobs, clock)) {
      JsonNode after = server.manifest(status);
      assertThat(after.get("transactionTime")).isEqualTo(before.get("transactionTime"));
      assertThat(after.get("output")).hasSameSizeAs(before.get("output"));
      assertThat(server.lines(after, "output").get("Patient")).hasSize(1);
    }
  }

  @Test
  void a_finished_export_whose_files_were_lost_is_forgotten_at_the_start() throws Exception {
    ExportServer.HandClock clock = new ExportServer.HandClock();
    ExportJobs jobs = new MemoryExportJobs();
    MemoryStore store = new MemoryStore();
    String status;
    try (ExportServer server = open(store, jobs, clock)) {
      server.http.recordStay();
      status = server.begin("/$export?_type=Patient");
      server.manifest(status);
      Files.delete(
          folder.resolve(status.substring("/$export/".length())).resolve("Patient-1.ndjson"));
    }
    try (ExportServer server = open(store, jobs, clock)) {
      server.manifest(server.begin("/$export?_type=Device"));
      gone(server.http.get(status));
    }
  }

  private static StoredResource stored(String id, String json) {
    return new StoredResource(
        new ResourceKey("Patient", id), 1, FhirServer.NOW, id, List.of(), json);
  }

  private List<String> jobFolders() throws IOException {
    try (Stream<Path> all = Files.list(folder)) {
      return all.filter(Files::isDirectory).map(path -> path.getFileName().toString()).toList();
    }
  }

  private static void gone(HttpResponse<String> answer) {
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(404);
    assertThat(answer.headers().firstValue("Content-Type")).contains("application/fhir+json");
    assertThat(answer.body()).contains("\"resourceType\":\"OperationOutcome\"");
  }
}
