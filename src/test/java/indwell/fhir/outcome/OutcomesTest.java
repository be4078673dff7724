package indwell.fhir.outcome;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.event.EventKey;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.domain.timeline.Remark;
import indwell.fhir.map.FhirJson;
import java.time.Instant;
import java.util.List;
import org.hl7.fhir.r4.model.OperationOutcome.IssueType;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

@DisplayNameGeneration(ReplaceUnderscores.class)
class OutcomesTest {

  @Test
  void a_finding_becomes_an_issue_with_code_sentence_and_place() {
    Issue issue =
        Issue.error(IssueCode.OUT_OF_RANGE, "details.balloonFilledMl", "450 is out of range.");

    assertThat(FhirJson.encode(Outcomes.of(List.of(issue))))
        .isEqualTo(
            "{\"resourceType\":\"OperationOutcome\",\"issue\":[{\"severity\":\"error\","
                + "\"code\":\"value\",\"details\":{\"coding\":[{"
                + "\"system\":\"https://indwell.example/fhir/CodeSystem/issue-code\","
                + "\"code\":\"IND-0015\"}]},\"diagnostics\":\"450 is out of range.\","
                + "\"expression\":[\"details.balloonFilledMl\"]}]}");
  }

  @Test
  void a_finding_about_the_whole_has_no_expression() {
    Issue issue = Issue.error(IssueCode.NOT_FOUND, "", "There is no ward W17.");

    assertThat(Outcomes.of(List.of(issue)).getIssueFirstRep().hasExpression()).isFalse();
  }

  @Test
  void a_remark_becomes_a_warning_that_names_its_events() {
    Remark remark =
        new Remark(
            IssueCode.STAYS_OVERLAP,
            Instant.EPOCH,
            List.of(new EventKey("his", "17"), new EventKey("his", "18")),
            "Two stays overlap.");

    var issue = Outcomes.ofRemarks(List.of(remark)).getIssueFirstRep();

    assertThat(issue.getSeverity().toCode()).isEqualTo("warning");
    assertThat(issue.getDetails().getCodingFirstRep().getCode()).isEqualTo("IND-0211");
    assertThat(issue.getDiagnostics()).isEqualTo("Two stays overlap. Events: his:17, his:18.");
  }

  /** Source: FHIR R4 code system issue-type, as HAPI FHIR carries it. */
  @ParameterizedTest
  @EnumSource(IssueCode.class)
  void every_code_has_an_issue_type_that_fhir_knows(IssueCode code) {
    assertThat(IssueType.fromCode(code.fhirIssueType())).isNotNull();
  }
}
