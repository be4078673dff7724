package indwell.web.fhir;

import static indwell.web.fhir.ExportServer.assertGone;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import indwell.adapter.store.memory.MemoryExportJobs;
import indwell.adapter.store.memory.MemoryStore;
import indwell.port.ExportJobs;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a new start of the service does with exports of the last one. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ExportRestartTest {
  @TempDir Path folder;

  @Test
  void an_unfinished_export_is_taken_up_after_a_restart_with_the_same_time() throws Exception {
    MovableClock clock = new MovableClock(FhirServer.NOW);
    ExportJobs jobs = new MemoryExportJobs();
    try (StuckStore store = new StuckStore()) {
      String status;
      try (ExportServer server = new ExportServer(store, jobs, folder, clock)) {
        server.http.recordStay();
        status = server.begin("/$export");
        store.awaitExport();
        store.releaseAway();
      }
      Files.createDirectory(folder.resolve("left-over"));
      clock.advance(Duration.ofMinutes(7));
      store.comeBack();
      try (ExportServer server = new ExportServer(store, jobs, folder, clock)) {
        server.http.record(
            FhirServer.event("e9", "weight-measured", "2026-03-01T12:00:00+01:00", "\"kg\":75"));
        JsonNode manifest = server.manifest(status);
        assertThat(manifest.get("transactionTime").textValue()).isEqualTo("2026-03-10T12:00:00Z");
        assertThat(server.lines(manifest, "output").get("Provenance")).hasSize(4);
        assertThat(server.jobFolders()).containsExactly(status.substring("/$export/".length()));
      }
    }
  }

  @Test
  void a_finished_export_is_still_there_after_a_restart() throws Exception {
    MovableClock clock = new MovableClock(FhirServer.NOW);
    ExportJobs jobs = new MemoryExportJobs();
    MemoryStore store = new MemoryStore();
    String status;
    JsonNode before;
    try (ExportServer server = new ExportServer(store, jobs, folder, clock)) {
      server.http.recordStay();
      status = server.begin("/$export");
      before = server.manifest(status);
    }
    try (ExportServer server = new ExportServer(store, jobs, folder, clock)) {
      JsonNode after = server.manifest(status);
      assertThat(after.get("transactionTime")).isEqualTo(before.get("transactionTime"));
      assertThat(after.get("output")).hasSameSizeAs(before.get("output"));
      assertThat(server.lines(after, "output").get("Patient")).hasSize(1);
    }
  }

  @Test
  void a_finished_export_whose_files_were_lost_is_forgotten_at_the_start() throws Exception {
    MovableClock clock = new MovableClock(FhirServer.NOW);
    ExportJobs jobs = new MemoryExportJobs();
    MemoryStore store = new MemoryStore();
    String status;
    try (ExportServer server = new ExportServer(store, jobs, folder, clock)) {
      server.http.recordStay();
      status = server.begin("/$export?_type=Patient");
      server.manifest(status);
      Files.delete(
          folder.resolve(status.substring("/$export/".length())).resolve("Patient-1.ndjson"));
    }
    try (ExportServer server = new ExportServer(store, jobs, folder, clock)) {
      server.manifest(server.begin("/$export?_type=Device"));
      assertGone(server.http.get(status));
    }
  }
}
