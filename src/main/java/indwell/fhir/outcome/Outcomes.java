package indwell.fhir.outcome;

import indwell.domain.event.EventKey;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.domain.timeline.Remark;
import indwell.fhir.term.Systems;
import java.util.Collection;
import java.util.stream.Collectors;
import org.hl7.fhir.r4.model.CodeableConcept;
import org.hl7.fhir.r4.model.OperationOutcome;
import org.hl7.fhir.r4.model.OperationOutcome.IssueSeverity;
import org.hl7.fhir.r4.model.OperationOutcome.IssueType;
import org.hl7.fhir.r4.model.OperationOutcome.OperationOutcomeIssueComponent;

/** Makes OperationOutcomes of findings about requests and of remarks about data. */
public final class Outcomes {
  /** System of the service's own codes, {@code IND-} and four digits. */
  public static final String SYSTEM = Systems.codeSystem("issue-code");

  private Outcomes() {}

  /** One issue a finding, in that order; {@code expression} is left out where it is empty. */
  public static OperationOutcome of(Collection<Issue> issues) {
    OperationOutcome outcome = new OperationOutcome();
    for (Issue issue : issues) {
      OperationOutcomeIssueComponent added =
          add(outcome, severity(issue.severity()), issue.code(), issue.diagnostics());
      if (!issue.expression().isEmpty()) {
        added.addExpression(issue.expression());
      }
    }
    return outcome;
  }

  /** One warning a remark, in that order; the sentence names the events it is about. */
  public static OperationOutcome ofRemarks(Collection<Remark> remarks) {
    OperationOutcome outcome = new OperationOutcome();
    for (Remark remark : remarks) {
      add(outcome, IssueSeverity.WARNING, remark.code(), sentence(remark));
    }
    return outcome;
  }

  /** The same, and behind them one issue a finding. */
  public static OperationOutcome ofRemarks(Collection<Remark> remarks, Collection<Issue> issues) {
    OperationOutcome outcome = ofRemarks(remarks);
    of(issues).getIssue().forEach(outcome::addIssue);
    return outcome;
  }

  private static OperationOutcomeIssueComponent add(
      OperationOutcome outcome, IssueSeverity severity, IssueCode code, String diagnostics) {
    return outcome
        .addIssue()
        .setSeverity(severity)
        .setCode(IssueType.fromCode(code.fhirIssueType()))
        .setDetails(details(code))
        .setDiagnostics(diagnostics);
  }

  private static CodeableConcept details(IssueCode code) {
    CodeableConcept details = new CodeableConcept();
    details.addCoding().setSystem(SYSTEM).setCode(code.code());
    return details;
  }

  private static IssueSeverity severity(Issue.Severity severity) {
    return IssueSeverity.fromCode(severity.code());
  }

  private static String sentence(Remark remark) {
    String events = remark.events().stream().map(EventKey::token).collect(Collectors.joining(", "));
    return remark.sentence() + " Events: " + events + ".";
  }
}
