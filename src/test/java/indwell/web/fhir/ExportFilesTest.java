package indwell.web.fhir;

import static indwell.web.fhir.ExportServer.assertGone;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.groups.Tuple.tuple;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.adapter.store.memory.MemoryExportJobs;
import indwell.adapter.store.memory.MemoryStore;
import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import java.io.InputStream;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What is in the files of an export (FHIR Bulk Data 3.0.0, output file). */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ExportFilesTest {
  private static final ObjectMapper JSON = new ObjectMapper();

  @TempDir Path folder;

  @Test
  void a_file_is_ndjson_of_one_type_and_as_long_as_its_count() throws Exception {
    try (ExportServer server = new ExportServer(folder)) {
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
    try (ExportServer server = new ExportServer(folder)) {
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
    try (ExportServer server = new ExportServer(folder)) {
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
          .containsExactly(tuple("2", 71));
    }
  }

  @Test
  void what_was_taken_back_is_exported_as_entered_in_error() throws Exception {
    try (ExportServer server = new ExportServer(folder)) {
      server.http.recordStay();
      server.clock.advance(Duration.ofSeconds(1));
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
      server.clock.advance(Duration.ofMillis(1));
      assertThat(server.export("/$export?_since=" + time).get("Provenance")).hasSize(1);
    }
  }

  @Test
  void nothing_but_the_files_of_the_manifest_can_be_fetched() throws Exception {
    try (ExportServer server = new ExportServer(folder)) {
      server.http.recordStay();
      String status = server.begin("/$export?_type=Patient");
      server.manifest(status);
      Files.writeString(folder.resolve("secret.ndjson"), "{}\n");
      for (String name :
          List.of("Patient-2.ndjson", "..%2Fsecret.ndjson", "%2e%2e", "Patient-1.ndjson.part")) {
        assertGone(server.http.get(status + "/" + name));
      }
      assertGone(server.http.get("/$export/owner"));
      assertGone(server.http.get("/$export/" + "0".repeat(36) + "/Patient-1.ndjson"));
    }
  }

  @Test
  void a_resource_that_cannot_be_exported_is_told_and_leaves_the_others_alone() throws Exception {
    MemoryStore store = new MemoryStore();
    try (ExportServer server = new ExportServer(store, new MemoryExportJobs(), folder)) {
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
  void a_file_goes_on_when_the_export_is_removed_meanwhile() throws Exception {
    MemoryStore store = new MemoryStore();
    try (ExportServer server = new ExportServer(store, new MemoryExportJobs(), folder)) {
      String big = "{\"resourceType\":\"Patient\",\"x\":\"" + "x".repeat(20_000_000) + "\"}";
      store.write(
          w -> {
            w.put(stored("big", big));
            return true;
          });
      String status = server.begin("/$export?_type=Patient");
      String file = server.manifest(status).at("/output/0/url").textValue();
      HttpResponse<InputStream> answer =
          HttpClient.newHttpClient()
              .send(HttpRequest.newBuilder(URI.create(file)).build(), BodyHandlers.ofInputStream());
      assertThat(answer.body().read()).isEqualTo('{');
      assertThat(server.http.send("DELETE", status).statusCode()).isEqualTo(202);
      assertThat(answer.body().readAllBytes()).hasSize(big.length());
    }
  }

  private static StoredResource stored(String id, String json) {
    return new StoredResource(
        new ResourceKey("Patient", id), 1, FhirServer.NOW, id, List.of(), json);
  }
}
