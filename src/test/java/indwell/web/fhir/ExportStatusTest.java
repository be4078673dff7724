package indwell.web.fhir;

import static indwell.web.fhir.ExportServer.assertGone;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.adapter.store.memory.MemoryExportJobs;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** From the kick-off to the manifest and the end (FHIR Bulk Data 3.0.0, status and delete). */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ExportStatusTest {
  private static final ObjectMapper JSON = new ObjectMapper();

  @TempDir Path folder;

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
      server.clock.advance(Duration.ofSeconds(1));
      assertThat(server.http.get(status).statusCode()).isEqualTo(202);
      store.release();
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
      HttpResponse<String> answer = server.poll(status, one -> !one.body().isEmpty());
      assertThat(answer.statusCode()).isEqualTo(200);
      assertThat(answer.headers().firstValue("X-Export-Status")).contains("200 OK");
      assertThat(answer.headers().firstValue("Content-Type")).contains("application/json");
      assertThat(answer.body()).contains("transactionTime");
    }
  }

  @Test
  void when_it_is_finished_the_status_is_the_manifest() throws Exception {
    try (ExportServer server = new ExportServer(folder)) {
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
    try (ExportServer server = new ExportServer(folder)) {
      JsonNode manifest = server.manifest(server.begin("/$export"));
      assertThat(manifest.get("output").isArray()).isTrue();
      assertThat(manifest.get("output")).isEmpty();
      assertThat(manifest.get("error").isArray()).isTrue();
      assertThat(manifest.get("error")).isEmpty();
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
      assertGone(server.http.get(status));
      assertGone(server.http.send("DELETE", status));
      store.release();
      server.manifest(server.begin("/$export?_type=Patient"));
      assertThat(server.jobFolders())
          .hasSize(1)
          .doesNotContain(status.substring("/$export/".length()));
    }
  }

  @Test
  void a_removed_export_is_gone_with_its_files() throws Exception {
    try (ExportServer server = new ExportServer(folder)) {
      server.http.recordStay();
      String status = server.begin("/$export");
      JsonNode manifest = server.manifest(status);
      String file = server.below(manifest.at("/output/0/url").textValue());
      assertThat(server.http.send("DELETE", status).statusCode()).isEqualTo(202);
      assertGone(server.http.get(status));
      assertGone(server.http.get(file));
      assertThat(server.jobFolders()).isEmpty();
    }
  }

  @Test
  void an_export_expires_with_its_files() throws Exception {
    try (ExportServer server = new ExportServer(folder)) {
      server.http.recordStay();
      String status = server.begin("/$export");
      String file = server.below(server.manifest(status).at("/output/0/url").textValue());
      server.clock.advance(Duration.ofMinutes(59));
      assertThat(server.http.get(file).statusCode()).isEqualTo(200);
      server.clock.advance(Duration.ofMinutes(2));
      assertGone(server.http.get(status));
      assertGone(server.http.get(file));
      assertGone(server.http.send("DELETE", status));
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
      // It has come back from its pause and found the store away again.
      store.awaitTurnedAway(3);
      assertThat(server.http.get(status).statusCode()).isEqualTo(202);
      store.comeBack();
      JsonNode manifest = server.manifest(status);
      server
          .lines(manifest, "output")
          .values()
          .forEach(lines -> assertThat(lines).isNotEmpty().doesNotHaveDuplicates());
    }
  }
}
