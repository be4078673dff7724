package indwell.intake;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.domain.refusal.IssueCode;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.api.Test;

/** The page {@code docs/errors.md} and the codes are the same list. */
@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class ErrorsPageTest {
  /** Codes of bodies too large for a row of the table; {@link EventBodiesTest} has them. */
  private static final Set<String> BEYOND_THE_TABLE =
      Set.of("IND-0004", "IND-0005", "IND-0006", "IND-0009");

  private record Row(String code, String name, String meaning, String example, String advice) {}

  @Test
  void every_code_has_its_row_in_order() throws IOException {
    assertThat(rows().stream().map(row -> row.code() + " " + row.name()))
        .containsExactlyElementsOf(
            Arrays.stream(IssueCode.values())
                .map(code -> code.code() + " " + code.name())
                .toList());
  }

  @Test
  void every_code_is_published_in_the_code_system() throws IOException {
    JsonNode published =
        new ObjectMapper().readTree(Path.of("fhir-profiles/CodeSystem-issue-code.json").toFile());
    assertThat(published.get("concept"))
        .extracting(concept -> concept.get("code").textValue())
        .containsExactlyElementsOf(Arrays.stream(IssueCode.values()).map(IssueCode::code).toList());
  }

  @Test
  void codes_are_unique_and_ascend() {
    List<String> codes = Arrays.stream(IssueCode.values()).map(IssueCode::code).toList();
    assertThat(codes).isSorted().doesNotHaveDuplicates().allMatch(c -> c.matches("IND-[0-9]{4}"));
  }

  /** Source: FHIR R4 ValueSet issue-type, the codes that this service uses. */
  @Test
  void issue_types_are_those_of_FHIR() {
    assertThat(IssueCode.values())
        .extracting(IssueCode::fhirIssueType)
        .isSubsetOf(
            "structure",
            "required",
            "value",
            "invariant",
            "not-supported",
            "not-found",
            "too-long",
            "too-costly",
            "code-invalid",
            "extension",
            "business-rule",
            "conflict",
            "transient",
            "exception",
            "throttled",
            "timeout",
            "informational",
            "login",
            "security",
            "forbidden");
  }

  @Test
  void every_cell_says_something_in_whole_sentences() throws IOException {
    assertThat(rows())
        .allSatisfy(
            row ->
                assertThat(List.of(row.meaning(), row.example(), row.advice()))
                    .allMatch(cell -> cell.matches("(?s)[A-Z].*\\.")));
  }

  @Test
  void examples_of_events_are_sentences_that_are_answered() throws IOException {
    String table;
    try (InputStream in = ErrorsPageTest.class.getResourceAsStream("broken-bodies.txt")) {
      table = new String(in.readAllBytes(), StandardCharsets.UTF_8);
    }
    assertThat(rows())
        .filteredOn(row -> row.code().compareTo("IND-0030") < 0)
        .filteredOn(row -> !BEYOND_THE_TABLE.contains(row.code()))
        .allSatisfy(
            row ->
                assertThat(table)
                    .containsPattern(
                        row.code()
                            + " \\S+ \\| "
                            + java.util.regex.Pattern.quote(row.example())
                            + "\n"));
  }

  private static List<Row> rows() throws IOException {
    return Files.readAllLines(Path.of("docs/errors.md")).stream()
        .filter(line -> line.startsWith("| IND-"))
        .map(line -> line.substring(2, line.length() - 2).split(" \\| ", -1))
        .map(cell -> new Row(cell[0], cell[1], cell[2], cell[3], cell[4]))
        .toList();
  }
}
