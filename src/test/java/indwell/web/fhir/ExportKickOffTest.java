package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import indwell.adapter.store.memory.MemoryExportJobs;
import indwell.adapter.store.memory.MemoryStore;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Orders for exports (FHIR Bulk Data 3.0.0, kick-off request). */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ExportKickOffTest {
  @TempDir Path folder;

  @Test
  void a_whole_system_comes_out() throws Exception {
    try (ExportServer server = open()) {
      server.http.recordStay();
      Map<String, List<JsonNode>> lines = server.export("/$export", "Prefer", "respond-async");
      System.out.println(lines.keySet());
      assertThat(lines.keySet()).contains("Patient", "Device", "Provenance");
    }
  }

  private ExportServer open() throws Exception {
    return new ExportServer(new MemoryStore(), new MemoryExportJobs(), folder);
  }
}
