package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.adapter.store.memory.MemoryExportJobs;
import indwell.adapter.store.memory.MemoryStore;
import indwell.port.ClinicalStore;
import indwell.port.ExportJobs;
import indwell.usecase.SearchResources;
import indwell.usecase.export.ExportFolder;
import indwell.usecase.export.ExportLimits;
import indwell.usecase.export.Exports;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.Predicate;
import java.util.stream.Stream;
import org.awaitility.Awaitility;

/** A {@link FhirServer} whose exports are in a known folder, with a clock that is moved by hand. */
final class ExportServer implements AutoCloseable {
  private static final ExportLimits LIMITS =
      new ExportLimits(2, Duration.ofHours(1), 3, 2, Duration.ofMillis(20));
  private static final ObjectMapper JSON = new ObjectMapper();

  final FhirServer http;
  final MovableClock clock;
  private final Path folder;

  ExportServer(Path folder) throws Exception {
    this(new MemoryStore(), new MemoryExportJobs(), folder);
  }

  ExportServer(ClinicalStore store, ExportJobs jobs, Path folder) throws Exception {
    this(store, jobs, folder, new MovableClock(FhirServer.NOW));
  }

  ExportServer(ClinicalStore store, ExportJobs jobs, Path folder, MovableClock clock)
      throws Exception {
    this.folder = folder;
    this.clock = clock;
    this.http =
        new FhirServer(
            new FhirSetup()
                .over(store)
                .clock(clock)
                .exporting((record, search, now) -> exports(record, jobs, folder, search, now)));
  }

  private static Exports exports(
      ClinicalStore store, ExportJobs jobs, Path folder, SearchResources search, Clock clock) {
    return new Exports(
        store,
        jobs,
        ExportFolder.open(folder),
        search,
        new ExportFilters(search, ZoneOffset.UTC),
        LIMITS,
        clock,
        () -> UUID.randomUUID().toString());
  }

  /** Begins an export and gives the path of its status below {@code /fhir}. */
  String begin(String path, String... headers) throws Exception {
    HttpResponse<String> answer = http.get(path, headers);
    if (answer.statusCode() != 202) {
      throw new AssertionError(answer.statusCode() + " " + answer.body());
    }
    return below(answer.headers().firstValue("Content-Location").orElseThrow());
  }

  /** What follows the base of an absolute URL. */
  String below(String url) {
    if (!url.startsWith(http.base() + "/")) {
      throw new AssertionError("Not absolute, or not here: " + url);
    }
    return url.substring(http.base().length());
  }

  /** Waits until the export is over, one way or the other. */
  HttpResponse<String> over(String status) throws Exception {
    return poll(status, answer -> answer.statusCode() != 202);
  }

  /** Asks again, half a second of the server's clock later each time, until it is so. */
  HttpResponse<String> poll(String status, Predicate<HttpResponse<String>> reached) {
    return Awaitility.await()
        .pollInterval(Duration.ofMillis(5))
        .atMost(Duration.ofSeconds(30))
        .until(
            () -> {
              clock.advance(Duration.ofMillis(500));
              return http.get(status);
            },
            reached);
  }

  JsonNode manifest(String status) throws Exception {
    HttpResponse<String> answer = over(status);
    if (answer.statusCode() != 200) {
      throw new AssertionError(answer.statusCode() + " " + answer.body());
    }
    return JSON.readTree(answer.body());
  }

  /** The lines of all files of a list of the manifest, by resource type. */
  Map<String, List<JsonNode>> lines(JsonNode manifest, String list) throws Exception {
    Map<String, List<JsonNode>> byType = new LinkedHashMap<>();
    for (JsonNode file : manifest.get(list)) {
      HttpResponse<String> answer = http.get(below(file.get("url").textValue()));
      if (answer.statusCode() != 200 || !answer.body().endsWith("\n")) {
        throw new AssertionError(answer.statusCode() + " " + answer.body());
      }
      for (String line : answer.body().split("\n", -1)) {
        if (!line.isEmpty()) {
          byType
              .computeIfAbsent(file.get("type").textValue(), type -> new ArrayList<>())
              .add(JSON.readTree(line));
        }
      }
    }
    return byType;
  }

  /** Begins an export, waits for it, and reads its output. */
  Map<String, List<JsonNode>> export(String path, String... headers) throws Exception {
    return lines(manifest(begin(path, headers)), "output");
  }

  /** The names of the folders that hold files of exports. */
  List<String> jobFolders() throws IOException {
    try (Stream<Path> all = Files.list(folder)) {
      return all.filter(Files::isDirectory).map(path -> path.getFileName().toString()).toList();
    }
  }

  /** What is answered where there is no export, or no longer. */
  static void assertGone(HttpResponse<String> answer) {
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(404);
    assertThat(answer.headers().firstValue("Content-Type")).contains("application/fhir+json");
    assertThat(answer.body()).contains("\"resourceType\":\"OperationOutcome\"");
  }

  @Override
  public void close() throws Exception {
    http.close();
  }
}
