package indwell.boot.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Exit codes, what goes where, and arguments that cannot be used. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ValidateCommandTest {
  private static final String PATIENT =
      "https://indwell.example/fhir/StructureDefinition/catheter-patient";

  @TempDir Path folder;

  @Test
  void a_folder_of_sound_resources_is_fine_and_leaves_standard_output_empty() throws Exception {
    Files.writeString(folder.resolve("a.json"), "{\"resourceType\":\"Patient\"}");
    Files.writeString(folder.resolve("notes.txt"), "none");
    Ran ran = Ran.command("validate", folder.toString());
    assertThat(ran.code()).isZero();
    assertThat(ran.out()).isEmpty();
    assertThat(ran.err().replace(folder + "/", ""))
        .isEqualTo(
            """
            Passed over 1 file with a name that ends neither in .json nor in .ndjson or .jsonl, \
            such as notes.txt.
            1 resource in 1 file validated: 0 errors, 0 warnings.
            """);
  }

  @Test
  void a_profile_that_is_asked_for_has_to_be_met() throws Exception {
    String file =
        Files.writeString(folder.resolve("a.json"), "{\"resourceType\":\"Patient\"}") + "";
    Ran ran = Ran.command("validate", "--format=JSON", "--threads=1", "--profile", PATIENT, file);
    assertThat(ran.code()).isEqualTo(1);
    assertThat(ran.out()).contains("\"name\":\"Patient.identifier\"");
    assertThat(ran.err()).isEqualTo("1 resource in 1 file validated: 1 error, 0 warnings.\n");
  }

  @Test
  void what_cannot_be_read_is_a_finding_and_exit_code_2() throws Exception {
    Files.createSymbolicLink(folder.resolve("n.json"), Path.of("nowhere.json"));
    Ran ran = Ran.command("validate", folder.toString());
    assertThat(ran.code()).isEqualTo(2);
    assertThat(ran.out()).contains("IND-0324");
  }

  @ParameterizedTest
  @CsvSource({
    "'', 'Missing required parameter'",
    "missing.json, 'Cannot read missing.json; expected a file or a folder.'",
    "--format xml pom.xml, '--format'",
    "--threads 0 pom.xml, '--threads is 0; expected 1 to 256.'",
    "--threads many pom.xml, 'is not an int'",
    "--profile https://nowhere.example/p pom.xml, 'is not known; expected one of R4'",
    "--colour pom.xml, '--colour'",
  })
  void arguments_that_cannot_be_used(String arguments, String told) {
    Ran ran = Ran.command(("validate " + arguments).strip().split(" "));
    assertThat(ran.code()).isEqualTo(2);
    assertThat(ran.err()).contains(told).doesNotContain("\tat ");
    assertThat(ran.out()).isEmpty();
  }

  @Test
  void a_bar_is_drawn_on_a_terminal_and_for_long_input_only() {
    assertThat(drawn(1_000_000, true)).contains("[####################....................] 50 %");
    assertThat(drawn(1_000_000, false)).isEmpty();
    assertThat(drawn(1_000, true)).isEmpty();
  }

  private static String drawn(long total, boolean onTerminal) {
    StringWriter err = new StringWriter();
    try (Progress progress = new Progress(new PrintWriter(err), total, onTerminal)) {
      progress.add(total / 2);
    }
    return err.toString();
  }

  @ParameterizedTest
  @CsvSource({
    "/dev/pts/3, true",
    "/dev/tty1, true",
    "/dev/console, true",
    "/dev/null, false",
    "/tmp/err.txt, false",
    "pipe:[4711], false",
    "socket:[12], false",
  })
  void a_terminal_is_known_by_its_device(String device, boolean terminal) {
    assertThat(Terminal.isTerminal(Path.of(device))).isEqualTo(terminal);
  }
}
