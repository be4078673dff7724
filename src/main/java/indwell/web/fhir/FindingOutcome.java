package indwell.web.fhir;

import indwell.port.ProfileValidator.Finding;
import java.util.List;
import org.hl7.fhir.r4.model.OperationOutcome;
import org.hl7.fhir.r4.model.OperationOutcome.IssueSeverity;
import org.hl7.fhir.r4.model.OperationOutcome.IssueType;

/** What a validation found, as the OperationOutcome that {@code $validate} answers with. */
final class FindingOutcome {
  private FindingOutcome() {}

  /**
   * One issue a finding, in their order; without any, one that says so. The rule that wants it
   * stands in the diagnostics for people and once more, alone, in the text of the details.
   */
  static OperationOutcome of(List<Finding> findings) {
    OperationOutcome outcome = new OperationOutcome();
    for (Finding finding : findings) {
      OperationOutcome.OperationOutcomeIssueComponent issue =
          outcome
              .addIssue()
              .setSeverity(IssueSeverity.fromCode(finding.severity().code()))
              .setCode(IssueType.fromCode(finding.code()))
              .setDiagnostics(finding.diagnostics());
      finding.rule().ifPresent(rule -> issue.getDetails().setText(rule.text()));
      if (!finding.expression().isEmpty()) {
        issue.addExpression(finding.expression());
      }
    }
    if (findings.isEmpty()) {
      outcome
          .addIssue()
          .setSeverity(IssueSeverity.INFORMATION)
          .setCode(IssueType.INFORMATIONAL)
          .setDiagnostics("Nothing was found to be wrong.");
    }
    return outcome;
  }
}
