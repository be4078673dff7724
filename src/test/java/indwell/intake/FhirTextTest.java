package indwell.intake;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.refusal.IssueCode;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What the gate looks for in FHIR bodies alone. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class FhirTextTest {
  private static final GateLimits FHIR = GateLimits.forOneDocument(100, 1 << 20);

  private static List<GateFinding> findings(String body) {
    return ((GateResult.Tree) JsonGate.read(body.getBytes(StandardCharsets.UTF_8), FHIR))
        .findings();
  }

  private static String div(String inside) {
    return "{\"text\":{\"div\":\"<div xmlns='http://www.w3.org/1999/xhtml'>"
        + inside
        + "</div>\"}}";
  }

  @Test
  void a_zero_character_cannot_be_stored() {
    assertThat(findings("{\"name\":[{\"family\":\"a\\u0000b\"}]}"))
        .containsExactly(
            new GateFinding(
                IssueCode.MALFORMED_TEXT,
                "name[0].family",
                "Text \"a\\u0000b\" holds a zero character; expected none."));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {"\\ud800", "a\\udc00", "\\udc00\\ud800", "\\ud83d\\ude00\\ud83d", "\\ud83dx"})
  void half_of_a_surrogate_pair_cannot_be_sent_on(String text) {
    assertThat(findings("{\"a\":\"" + text + "\"}"))
        .extracting(GateFinding::code, GateFinding::path)
        .containsExactly(org.assertj.core.groups.Tuple.tuple(IssueCode.MALFORMED_TEXT, "a"));
  }

  @ParameterizedTest
  @ValueSource(strings = {"\\ud83d\\ude00", "\\t\\n\\r", "\\u0001", "\\uffff", "\u202e", ""})
  void other_characters_are_for_the_validator(String text) {
    assertThat(findings("{\"a\":\"" + text + "\"}")).isEmpty();
  }

  @Test
  void a_name_is_a_text_as_well() {
    assertThat(findings("{\"a\\u0000\":1}"))
        .extracting(GateFinding::code)
        .containsExactly(IssueCode.MALFORMED_TEXT);
  }

  /** Behind the gate Jackson reads names up to 50,000 characters and fails on longer ones. */
  @ParameterizedTest
  @CsvSource({"1000, false", "1001, true", "60000, true"})
  void a_name_has_at_most_1000_characters(int length, boolean tooLong) {
    assertThat(findings("{\"" + "n".repeat(length) + "\":1}")).hasSize(tooLong ? 1 : 0);
  }

  /** 800 elements inside one another took the library 2.5 s of processor time. */
  @ParameterizedTest
  @CsvSource({"49, false", "50, true", "100000, true"})
  void a_narrative_is_nested_at_most_50_deep(int inside, boolean tooDeep) {
    assertThat(findings(div("<b>".repeat(inside) + "</b>".repeat(inside))))
        .extracting(GateFinding::code)
        .isEqualTo(tooDeep ? List.of(IssueCode.NESTED_TOO_DEEP) : List.of());
  }

  @Test
  void what_stands_side_by_side_is_not_nested() {
    assertThat(findings(div("<br/><hr />".repeat(300) + "<p>a</p>".repeat(300)))).isEmpty();
    assertThat(findings("{\"a\":\"" + "1 < 2 ".repeat(300) + "\"}")).isEmpty();
    assertThat(findings("{\"a\":\"" + "<".repeat(3000) + "\"}")).isEmpty();
    assertThat(findings("{\"a\":\"" + "<!-- -->".repeat(300) + "\"}")).isEmpty();
  }

  /** Nothing is looked for twice: with a square of the length this would not come to an end. */
  @Test
  void a_megabyte_of_brackets_is_looked_through_once() {
    assertThat(findings("{\"a\":\"" + "<".repeat(1_000_000) + "\"}")).isEmpty();
    assertThat(findings("{\"a\":\"" + "<a/".repeat(300_000) + "\"}")).hasSize(1);
    assertThat(findings("{\"a\":\"<a" + " ".repeat(1_000_000) + "\"}")).isEmpty();
  }

  /** 48 resources inside one another took the library 0.4 s of processor time. */
  @ParameterizedTest
  @CsvSource({"4, false", "5, true", "30, true"})
  void resources_contain_one_another_at_most_4_deep(int deep, boolean tooDeep) {
    String body = "{\"id\":\"a\"}";
    for (int i = 0; i < deep; i++) {
      body = "{\"contained\":[" + body + "]}";
    }
    assertThat(findings(body).stream().map(GateFinding::code).distinct())
        .isEqualTo(tooDeep ? List.of(IssueCode.NESTED_TOO_DEEP) : List.of());
  }

  @Test
  void many_contained_resources_side_by_side_are_not_nested() {
    assertThat(findings("{\"contained\":[" + "{\"id\":\"a\"},".repeat(99) + "{}]}")).isEmpty();
  }

  @Test
  void events_tell_of_their_texts_themselves() {
    byte[] body = "{\"source\":\"a\\u0000\"}".getBytes(StandardCharsets.UTF_8);
    assertThat(((GateResult.Tree) JsonGate.read(body, EventBodies.SINGLE)).findings()).isEmpty();
  }
}
