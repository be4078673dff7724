package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The command line of the packaged jar: results on standard output, all else on standard error. */
@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class CommandLineIT {
  private static final String STAY =
      String.join(
          "\n",
          Events.event("a1", "patient-admitted", "2026-03-01T10:00:00Z", "{\"ward\":\"north\"}"),
          Events.insertion("a2", "C-1", "2026-03-01T11:00:00Z"),
          Events.event(
              "a3", "catheter-removed", "2026-03-03T11:00:00Z", "{\"catheterId\":\"C-1\"}"),
          Events.event("a4", "patient-discharged", "2026-03-04T10:00:00Z", "{}"));

  @TempDir Path folder;

  /** What a finished command left. */
  private record Done(int exitCode, String out, String err) {}

  private Done run(String... arguments) throws Exception {
    List<String> command = new ArrayList<>();
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.addAll(List.of("-jar", RunningService.JAR.toString()));
    command.addAll(List.of(arguments));
    Path out = Files.createTempFile(folder, "out", ".txt");
    Path err = Files.createTempFile(folder, "err", ".txt");
    Process process =
        new ProcessBuilder(command)
            .redirectOutput(out.toFile())
            .redirectError(err.toFile())
            .start();
    assertThat(process.waitFor(120, TimeUnit.SECONDS)).isTrue();
    return new Done(process.exitValue(), Files.readString(out), Files.readString(err));
  }

  private String file(String name, String content) throws Exception {
    return Files.writeString(folder.resolve(name), content).toString();
  }

  @Test
  void device_days_counts_events_from_a_file() throws Exception {
    Done done =
        run(
            "device-days",
            "--start",
            "2026-03-01",
            "--end",
            "2026-03-04",
            file("stay.ndjson", STAY));
    assertThat(done.exitCode()).as(done.err()).isZero();
    assertThat(done.out())
        .isEqualTo(
            "date,ward,patient_days,catheter_days\r\n"
                + "2026-03-01,north,0,0\r\n"
                + "2026-03-02,north,1,1\r\n"
                + "2026-03-03,north,1,1\r\n"
                + "2026-03-04,north,1,0\r\n");
  }

  @Test
  void device_days_without_a_start_is_a_bad_argument() throws Exception {
    Done done = run("device-days", "--end", "2026-03-04", file("stay.ndjson", STAY));
    assertThat(done.exitCode()).isEqualTo(2);
    assertThat(done.err()).contains("--start");
    assertThat(done.out()).isEmpty();
  }

  @Test
  void map_prints_valid_resources_and_validate_finds_nothing_wrong_with_them() throws Exception {
    Done mapped = run("map", file("stay.ndjson", STAY));
    assertThat(mapped.exitCode()).as(mapped.err()).isZero();
    assertThat(mapped.out().lines())
        .allMatch(line -> line.startsWith("{\"resourceType\":\""))
        .anyMatch(line -> line.contains("\"resourceType\":\"DeviceUseStatement\""));

    Done validated = run("validate", file("resources.ndjson", mapped.out()));
    assertThat(validated.exitCode()).as(validated.out()).isZero();
    assertThat(validated.out()).doesNotContain(": error ");
  }

  @Test
  void map_tells_of_a_refused_event_and_maps_the_rest() throws Exception {
    Done done = run("map", file("mixed.ndjson", STAY + "\n{\"source\":\"x\"}\n"));
    assertThat(done.exitCode()).isEqualTo(1);
    assertThat(done.err()).contains("mixed.ndjson:5").contains("IND-0011").contains("eventId");
    assertThat(done.out()).contains("\"resourceType\":\"Procedure\"");
  }

  @Test
  void validate_tells_what_is_wrong_where() throws Exception {
    Done done =
        run("validate", file("bad.json", "{\"resourceType\":\"Patient\",\"gender\":\"x\"}"));
    assertThat(done.exitCode()).isEqualTo(1);
    assertThat(done.out())
        .contains(
            "bad.json:1:39: error code-invalid Patient.gender: Code \"x\" is not in the value")
        .contains("of http://hl7.org/fhir/StructureDefinition/Patient|4.0.1)");
    assertThat(done.err()).isEqualTo("1 resource in 1 file validated: 1 error, 0 warnings.\n");
  }

  @Test
  void validate_writes_junit_xml_and_draws_no_bar_into_a_file() throws Exception {
    String lines = "{\"resourceType\":\"Patient\",\"id\":\"p1\"}\n".repeat(10_000);
    Done done = run("validate", "--format", "junit", file("many.ndjson", lines));
    assertThat(done.exitCode()).as(done.err()).isZero();
    assertThat(done.out())
        .startsWith("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<testsuites")
        .contains("tests=\"10000\" failures=\"0\"")
        .endsWith("</testsuites>\n");
    assertThat(done.err())
        .isEqualTo("10000 resources in 1 file validated: 0 errors, 0 warnings.\n");
  }

  @Test
  void a_path_that_is_not_there_is_unreadable() throws Exception {
    Done done = run("validate", folder.resolve("missing.json").toString());
    assertThat(done.exitCode()).isEqualTo(2);
    assertThat(done.err()).contains("missing.json").contains("expected a file or a folder");
    assertThat(done.out()).isEmpty();
  }

  @Test
  void an_unknown_command_is_a_bad_argument() throws Exception {
    Done done = run("count");
    assertThat(done.exitCode()).isEqualTo(2);
    assertThat(new String(done.err().getBytes(StandardCharsets.UTF_8), StandardCharsets.UTF_8))
        .contains("count");
  }
}
