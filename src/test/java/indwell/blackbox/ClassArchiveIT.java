package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The start with an archive of classes, as docs/operations.md has it. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ClassArchiveIT {
  /** How the virtual machine says that a class came out of the archive that was made here. */
  private static final String FROM_THE_ARCHIVE = "source: shared objects file (top)";

  @TempDir static Path out;
  @TempDir Path folder;

  @BeforeAll
  static void an_archive_is_made() throws Exception {
    Path said = out.resolve("said");
    ProcessBuilder script =
        new ProcessBuilder(
                "src/main/scripts/class-archive.sh", "target/quarkus-app", out.toString())
            .redirectErrorStream(true)
            .redirectOutput(said.toFile());
    // A caller's own settings must not reach the service that is only there for its classes.
    script.environment().put("INDWELL_DATA_DIR", "/proc/none");
    Process process = script.start();
    assertThat(process.waitFor(5, TimeUnit.MINUTES)).isTrue();
    assertThat(process.exitValue()).as(Files.readString(said)).isZero();
  }

  private static String options() {
    return "@" + out.resolve("indwell.options");
  }

  private List<String> classesOfAServiceThatRecords(String id) throws Exception {
    Path loaded = folder.resolve("classes.log");
    try (RunningService service =
        RunningService.start(
            List.of(options()),
            Map.of("INDWELL_DATA_DIR", folder.resolve("data").toString()),
            "-Xlog:class+load:file=" + loaded + "::filesize=0")) {
      assertThat(service.postEvent(Events.insertionOfPatient(id)).statusCode()).isEqualTo(201);
      assertThat(service.get(Events.whereFound(id)).body()).contains("\"total\":1");
      assertThat(service.get("/").statusCode()).isEqualTo(200);
      assertThat(service.get("/metrics").statusCode()).isEqualTo(200);
      assertThat(service.get("/fhir/metadata").statusCode()).isEqualTo(200);
    }
    return Files.readAllLines(loaded);
  }

  @Test
  void the_service_and_its_libraries_come_out_of_the_archive() throws Exception {
    List<String> classes = classesOfAServiceThatRecords("archived");
    for (String name :
        List.of(
            "indwell.boot.IndwellMain",
            "indwell.usecase.RecordEvents",
            "ca.uhn.fhir.context.FhirContext",
            "io.vertx.core.impl.VertxImpl")) {
      assertThat(classes)
          .as(name)
          .anyMatch(line -> line.contains("] " + name + " ") && line.contains(FROM_THE_ARCHIVE));
    }
  }

  @Test
  void an_archive_of_another_virtual_machine_is_ignored() throws Exception {
    Path archive = out.resolve("indwell.jsa");
    byte[] whole = Files.readAllBytes(archive);
    byte[] foreign = whole.clone();
    // The header says in Latin letters which machine wrote it.
    int name = new String(foreign, 0, 4_096, StandardCharsets.ISO_8859_1).indexOf("VM (");
    assertThat(name).isPositive();
    foreign[name] = 'X';
    replace(archive, foreign);
    try {
      assertThat(classesOfAServiceThatRecords("foreign"))
          .anyMatch(line -> line.contains("] indwell.boot.IndwellMain "))
          .noneMatch(line -> line.contains(FROM_THE_ARCHIVE));
    } finally {
      replace(archive, whole);
    }
  }

  @Test
  void what_is_no_archive_is_ignored() throws Exception {
    Path archive = out.resolve("indwell.jsa");
    byte[] whole = Files.readAllBytes(archive);
    replace(archive, "no archive".getBytes(StandardCharsets.UTF_8));
    try {
      assertThat(mapped()).isNotEmpty().allMatch(line -> line.startsWith("{\"resourceType\":\""));
    } finally {
      replace(archive, whole);
    }
  }

  /** It is made read-only, and a process may still have the old one mapped. */
  private static void replace(Path archive, byte[] content) throws Exception {
    Files.delete(archive);
    Files.write(archive, content);
  }

  @Test
  void commands_are_given_after_the_options() throws Exception {
    assertThat(mapped()).isNotEmpty().allMatch(line -> line.startsWith("{\"resourceType\":\""));
  }

  private List<String> mapped() throws Exception {
    Path event = folder.resolve("event.ndjson");
    Files.writeString(event, Events.insertion("c1", "C-1", "2026-03-01T11:00:00Z"));
    Path mapped = folder.resolve("mapped");
    Path said = folder.resolve("said");
    Process process =
        new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                options(),
                "map",
                event.toString())
            .redirectOutput(mapped.toFile())
            .redirectError(said.toFile())
            .start();
    assertThat(process.waitFor(2, TimeUnit.MINUTES)).isTrue();
    assertThat(process.exitValue()).as(Files.readString(said)).isZero();
    return Files.readAllLines(mapped);
  }
}
