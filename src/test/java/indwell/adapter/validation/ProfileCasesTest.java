package indwell.adapter.validation;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import indwell.port.ProfileValidator.Finding;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

@DisplayNameGeneration(ReplaceUnderscores.class)
class ProfileCasesTest {
  private static final boolean WRITE = Boolean.getBoolean("indwell.golden.write");

  static Stream<Path> valid() {
    return Cases.files(Cases.VALID, ".json").stream();
  }

  static Stream<Path> invalid() {
    return Cases.files(Cases.INVALID, ".json").stream();
  }

  private static List<Finding> errors(byte[] json) {
    return Cases.VALIDATOR.validate(json).stream().filter(Finding::isError).toList();
  }

  @ParameterizedTest
  @MethodSource("valid")
  void a_valid_case_has_no_error(Path file) {
    assertThat(errors(Cases.bytes(file))).isEmpty();
  }

  @ParameterizedTest
  @MethodSource("invalid")
  void an_invalid_case_gives_the_issue_that_stands_beside_it(Path file) throws IOException {
    Path expected = Path.of(file.toString().replace(".json", ".txt"));
    String line = errors(Cases.bytes(file)).get(0).line() + "\n";
    if (WRITE) {
      Files.writeString(expected, line);
    }
    assertThat(line).isEqualTo(Files.readString(expected));
  }

  @ParameterizedTest
  @MethodSource("invalid")
  void a_case_named_after_an_invariant_breaks_that_one(Path file) {
    String name = Cases.name(file);
    int at = name.indexOf("ind-");
    if (at >= 0) {
      String key = name.substring(at, name.length() - ".json".length());
      assertThat(errors(Cases.bytes(file)))
          .anyMatch(one -> one.rule().filter(rule -> rule.name().equals(key)).isPresent());
    }
  }

  @Test
  void every_invariant_has_a_case_named_after_it() {
    List<String> names = invalid().map(Cases::name).toList();
    for (Path file : Cases.conformance()) {
      for (JsonNode key : Cases.json(file).findValues("key")) {
        assertThat(names).anyMatch(name -> name.endsWith("-" + key.asText() + ".json"));
      }
    }
  }

  @Test
  void every_profile_has_one_valid_and_at_least_two_invalid_cases() {
    List<String> profiles = Cases.profileIds();
    assertThat(valid().map(Cases::name))
        .containsExactlyInAnyOrderElementsOf(profiles.stream().map(id -> id + ".json").toList());
    for (String id : profiles) {
      assertThat(invalid().filter(file -> claims(file, id)).count())
          .as("invalid cases of %s", id)
          .isGreaterThanOrEqualTo(2);
    }
  }

  private static boolean claims(Path file, String id) {
    String profile = Cases.json(file).path("meta").path("profile").path(0).asText();
    return profile.endsWith("/StructureDefinition/" + id) && Cases.name(file).startsWith(id + "-");
  }

  @ParameterizedTest
  @MethodSource("valid")
  void what_is_entered_in_error_is_still_valid_with_its_last_content(Path file) {
    ObjectNode resource = (ObjectNode) Cases.json(file);
    String type = resource.path("resourceType").asText();
    List<String> canBeInError =
        List.of(
            "Encounter", "Device", "DeviceUseStatement", "Procedure", "Observation", "Specimen");
    if (canBeInError.contains(type)) {
      resource.put("status", "entered-in-error");
      assertThat(errors(Cases.bytes(resource))).isEmpty();
    }
  }

  /** The table of the README: every wrong code has a case, and the case holds it. */
  @Test
  void every_code_that_circulates_and_is_wrong_is_refused() throws IOException {
    List<String[]> rows =
        Files.readAllLines(Cases.ROOT.resolve("README.md")).stream()
            .dropWhile(line -> !line.equals("### Codes that circulate and are wrong"))
            .filter(line -> line.startsWith("| `"))
            .map(line -> line.substring(2, line.length() - 2).replace("`", "").split(" \\| "))
            .toList();
    assertThat(rows).hasSizeGreaterThan(15);
    for (String[] row : rows) {
      Path file = Cases.INVALID.resolve(row[4] + ".json");
      assertThat(Files.readString(file)).contains('"' + row[0] + '"');
      assertThat(errors(Cases.bytes(file))).as(row[4]).isNotEmpty();
    }
  }

  /** The contract: without patient days the score has no value, but says why. */
  @Test
  void a_report_without_patient_days_gives_a_reason_in_place_of_a_score() {
    ObjectNode report =
        (ObjectNode) Cases.json(Cases.VALID.resolve("catheter-device-day-report.json"));
    ObjectNode group = (ObjectNode) report.path("group").path(0);
    group.path("population").forEach(one -> ((ObjectNode) one).put("count", 0));
    group
        .putObject("measureScore")
        .putArray("extension")
        .addObject()
        .put("url", "http://hl7.org/fhir/StructureDefinition/data-absent-reason")
        .put("valueCode", "not-applicable");
    assertThat(errors(Cases.bytes(report))).isEmpty();
    group.remove("measureScore");
    assertThat(errors(Cases.bytes(report))).isNotEmpty();
  }
}
