package indwell.boot.cli;

import static java.nio.charset.StandardCharsets.ISO_8859_1;
import static java.nio.charset.StandardCharsets.UTF_16;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Whatever a file holds, there is an answer that says what and where, and the rest goes on. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ValidateBadInputTest {
  private static final String SOUND = "{\"resourceType\":\"Patient\",\"id\":\"p1\"}";

  @TempDir Path folder;

  private Path file(String name, byte[] content) throws Exception {
    Path file = folder.resolve(name);
    Files.createDirectories(file.getParent());
    return Files.write(file, content);
  }

  private Path file(String name, String content) throws Exception {
    return file(name, content.getBytes(ISO_8859_1));
  }

  private String report(Path... paths) {
    return Ran.report(Report.Format.TEXT, 2, paths).replace(folder + "/", "");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      value = {
        "` `|1: fatal required: IND-0320: The file is empty; expected one FHIR resource as JSON.",
        "``|1: fatal required: IND-0320: The file is empty; expected one FHIR resource as JSON.",
        "{\"resourceType\":\"Pat|1:21: fatal structure: IND-0001: The text ends before its JSON does;"
            + " expected one JSON value in UTF-8.",
        "{\"a\":1,}|1:8: fatal structure: IND-0001: The text is no JSON; expected one JSON value in"
            + " UTF-8.",
        "{} {}|1:4: fatal structure: IND-0001: The text goes on after its value; expected one JSON"
            + " value in UTF-8.",
        "{\"a\":\"\u00e4\"}|1: fatal structure: IND-0001: The text is no UTF-8 at byte 7; expected one"
            + " JSON value in UTF-8.",
        "<Patient/>|1: fatal not-supported: IND-0322: The text is XML; expected a FHIR resource as"
            + " JSON.",
        "[{}]|1: fatal structure: IND-0106: The text is an array; expected one FHIR resource, an"
            + " object with a resourceType.",
        "17|1: fatal structure: IND-0106: The text is a single value; expected one FHIR resource, an"
            + " object with a resourceType.",
        "{\"id\":\"a\",\"id\":\"a\"}|1: fatal structure id: IND-0002: Name \"id\" stands more than once"
            + " in its object; expected it once.",
        "{\"n\":1e999}|1: fatal value n: IND-0008: Number 1e999 is beyond reading; expected at most 40"
            + " digits and an exponent within \u00b140.",
        "{}|1:3: fatal invalid: The object has no resourceType; expected the name of a resource type"
            + " of R4.",
        "{\"resourceType\":\"Bed\"}|1:23: fatal structure Bed: Resource type \"Bed\" is not known;"
            + " expected a resource type of R4.",
        "{\"resourceType\":7}|1:19: fatal invalid: Property resourceType is a JSON number; expected a"
            + " string.",
      })
  void a_document_that_is_no_resource(String content, String expected) throws Exception {
    assertThat(report(file("a.json", content))).isEqualTo("a.json:" + expected + "\n");
  }

  @Test
  void a_byte_order_mark_is_told_and_what_is_behind_it_is_validated() throws Exception {
    byte[] mark = {(byte) 0xef, (byte) 0xbb, (byte) 0xbf};
    String marked = new String(mark, ISO_8859_1);
    String told =
        "a.json:1:1: fatal structure: IND-0321: The text begins with a byte order mark; expected"
            + " UTF-8 without one.\n";
    assertThat(report(file("a.json", marked + SOUND))).isEqualTo(told);
    assertThat(report(file("a.json", marked + "{\"resourceType\":\"Bed\"}")))
        .startsWith(told)
        .contains("\"Bed\" is not known");
    assertThat(report(file("a.ndjson", SOUND + "\n" + marked + SOUND)))
        .startsWith("a.ndjson:2:1: fatal structure: IND-0321");
  }

  @Test
  void utf_16_is_no_utf_8() throws Exception {
    assertThat(report(file("a.json", SOUND.getBytes(UTF_16)))).contains("is no UTF-8 at byte 1");
  }

  @Test
  void nesting_without_end_is_no_stack_overflow() throws Exception {
    assertThat(report(file("a.json", "{\"a\":".repeat(100_000))))
        .isEqualTo(
            "a.json:1: fatal structure: IND-0007: The text is nested too deep; expected at most"
                + " 100 levels.\n");
  }

  @Test
  void one_bad_line_stops_no_other_and_lines_are_counted_as_editors_do() throws Exception {
    String lines =
        String.join(
            "\n",
            SOUND,
            "",
            "nonsense",
            "{\"resourceType\":\"Patient\",\"gender\":\"x\"}",
            "  ",
            "{\"resourceType\":\"Patient\"",
            SOUND,
            "[]");
    String expected =
        """
        lines:3:1: fatal structure: IND-0001: The text is no JSON; expected one JSON value in UTF-8.
        lines:4:39: error code-invalid Patient.gender: Code "x" is not in the value set; expected \
        male, female, other or unknown of http://hl7.org/fhir/administrative-gender. (binding \
        Patient.gender to http://hl7.org/fhir/ValueSet/administrative-gender|4.0.1 of \
        http://hl7.org/fhir/StructureDefinition/Patient|4.0.1)
        lines:6:26: fatal structure: IND-0001: The text ends before its JSON does; expected one \
        JSON value in UTF-8.
        lines:8: fatal structure: IND-0106: The text is an array; expected one FHIR resource, an \
        object with a resourceType.
        """;
    for (String name : List.of("a.ndjson", "a.jsonl", "a.json", "a.txt")) {
      assertThat(report(file(name, lines))).isEqualTo(expected.replace("lines:", name + ":"));
    }
  }

  @Test
  void a_document_that_begins_with_an_object_in_a_line_is_no_stream() throws Exception {
    assertThat(report(file("a.json", SOUND + "\n\n \n"))).isEmpty();
    assertThat(report(file("a.json", "\n\n" + SOUND))).isEmpty();
    assertThat(report(file("a.json", SOUND.replace(",", ",\n")))).isEmpty();
  }

  @Test
  void a_stream_without_a_line_is_a_warning() throws Exception {
    assertThat(report(file("a.ndjson", "\n \n")))
        .isEqualTo(
            "a.ndjson:1: warning required: IND-0320: The file holds no resource; expected one a"
                + " line (NDJSON).\n");
  }

  @Test
  void what_is_too_large_is_refused_alone() throws Exception {
    String large = "{\"resourceType\":\"Patient\",\"id\":\"" + "x".repeat(SentText.MOST_BYTES);
    assertThat(report(file("a.json", large)))
        .isEqualTo(
            "a.json:1: fatal too-long: IND-0323: The text is larger than 16777216 bytes; expected"
                + " at most that, or one resource a line (NDJSON).\n");
    assertThat(report(file("a.ndjson", SOUND + "\n" + large + "\n" + SOUND)))
        .isEqualTo(
            "a.ndjson:2: fatal too-long: IND-0323: The text is larger than 16777216 bytes; expected"
                + " at most that.\n");
  }

  @Test
  void a_file_in_a_folder_that_cannot_be_read_is_told_and_the_rest_is_validated() throws Exception {
    file("in/a.json", "{}");
    file("in/z/b.json", "{}");
    Files.createSymbolicLink(folder.resolve("in/n.json"), Path.of("nowhere.json"));
    Files.createSymbolicLink(folder.resolve("in/loop"), Path.of("."));
    StringWriter out = new StringWriter();
    boolean allRead =
        Ran.run(Report.Format.TEXT, 2, new PrintWriter(out), folder.resolve("in")).allRead();
    assertThat(allRead).isFalse();
    assertThat(out.toString().replace(folder + "/", "").lines().map(line -> line.substring(0, 11)))
        .containsExactly("in/a.json:1", "in/n.json:1", "in/z/b.json");
    assertThat(out.toString())
        .contains("fatal not-found: IND-0324: The file cannot be read; expected a JSON or NDJSON");
  }

  @Test
  void what_a_file_holds_cannot_forge_a_line_of_the_report() throws Exception {
    String forged =
        "{\"resourceType\":\"Patient\",\"gender\":\"x\\nb.json:1: error\",\"\\u2028\":1}";
    assertThat(report(file("a.json", forged)).lines())
        .allMatch(line -> line.startsWith("a.json:1:"));
  }
}
