package indwell.domain.refusal;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import org.hl7.fhir.r4.model.OperationOutcome;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/** What a refusal is made of: its grade, its code, and the value it names. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class RefusalTest {

  @Test
  void an_error_refuses_and_a_warning_does_not() {
    assertThat(Issue.error(IssueCode.OUT_OF_RANGE, "details.kg", "too heavy"))
        .isEqualTo(
            new Issue(Issue.Severity.ERROR, IssueCode.OUT_OF_RANGE, "too heavy", "details.kg"));
    assertThat(Issue.warning(IssueCode.SUPERSEDED, "version", "older"))
        .isEqualTo(new Issue(Issue.Severity.WARNING, IssueCode.SUPERSEDED, "older", "version"));
  }

  /** FHIR R4, http://hl7.org/fhir/issue-severity, read by the HAPI library. */
  @ParameterizedTest
  @EnumSource(Issue.Severity.class)
  void grades_are_those_of_fhir(Issue.Severity severity) {
    assertThat(OperationOutcome.IssueSeverity.fromCode(severity.code()).name())
        .isEqualTo(severity.name());
  }

  /** FHIR R4, http://hl7.org/fhir/issue-type, read by the HAPI library. */
  @ParameterizedTest
  @EnumSource(IssueCode.class)
  void a_code_has_four_digits_and_a_type_of_fhir(IssueCode code) {
    assertThat(code.code()).matches("IND-\\d{4}");
    assertThat(OperationOutcome.IssueType.fromCode(code.fhirIssueType())).isNotNull();
  }

  @Test
  void no_code_is_used_twice() {
    assertThat(Arrays.stream(IssueCode.values()).map(IssueCode::code)).doesNotHaveDuplicates();
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      value = {
        "five5       | 5 | five5",
        "five5       | 4 | five…",
        "five5       | 6 | five5",
        "five5       | 0 | …",
        "😀😀        | 2 | 😀😀",
        "😀😀        | 1 | 😀…",
        "``          | 3 | ``",
        "``          | 0 | ``",
      })
  void a_text_is_cut_off_by_code_points(String text, int most, String shown) {
    assertThat(Visible.of(text, most)).isEqualTo(shown);
  }

  @Test
  void what_cannot_be_seen_is_written_as_its_number() {
    assertThat(Visible.of("a\tb", 9)).isEqualTo("a\\u0009b");
    assertThat(Visible.of("a\u202Eb", 9)).isEqualTo("a\\u202eb");
    assertThat(Visible.of("\uD800", 9)).isEqualTo("\\ud800");
    assertThat(Visible.of("\u0378", 9)).isEqualTo("\\u0378");
    assertThat(Visible.of("\uE000", 9)).isEqualTo("\\ue000");
    assertThat(Visible.of("\u2028\u2029", 9)).isEqualTo("\\u2028\\u2029");
    assertThat(Visible.of("é 尿", 9)).isEqualTo("é 尿");
  }

  @Test
  void a_quotation_mark_within_a_quotation_does_not_end_it() {
    assertThat(Visible.quoted("five5", 4)).isEqualTo("\"five…\"");
    assertThat(Visible.quoted("a\"; \"b", 9)).isEqualTo("\"a\\u0022; \\u0022b\"");
    assertThat(Visible.quoted("\"\"\"", 2)).isEqualTo("\"\\u0022\\u0022…\"");
    assertThat(Visible.quoted("a\u202Eb", 9)).isEqualTo("\"a\\u202eb\"");
  }
}
