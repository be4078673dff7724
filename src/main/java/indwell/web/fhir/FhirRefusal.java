package indwell.web.fhir;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.web.HttpAnswer;
import indwell.web.access.Denial;
import java.util.List;
import java.util.Optional;

/** A request that is answered by an error: thrown by an interaction, answered by the dispatcher. */
final class FhirRefusal extends RuntimeException {
  private static final long serialVersionUID = 1L;

  private final int status;
  private final transient List<Issue> issues;
  private final transient Optional<Denial> denial;

  FhirRefusal(int status, List<Issue> issues) {
    this(status, issues, Optional.empty());
  }

  private FhirRefusal(int status, List<Issue> issues, Optional<Denial> denial) {
    // No message and no stack: it is an answer, and answers may name patients.
    super(null, null, false, false);
    this.status = status;
    this.issues = List.copyOf(issues);
    this.denial = denial;
  }

  static FhirRefusal of(int status, IssueCode code, String expression, String sentence) {
    return new FhirRefusal(status, List.of(Issue.error(code, expression, sentence)));
  }

  static FhirRefusal badParameter(String name, String sentence) {
    return of(400, IssueCode.BAD_PARAMETER, name, sentence);
  }

  static FhirRefusal notFound(String sentence) {
    return of(404, IssueCode.NOT_FOUND, "", sentence);
  }

  /** What a use case refused: 404 for what is not known, 400 for the rest. */
  static FhirRefusal of(Issue issue) {
    return new FhirRefusal(issue.code() == IssueCode.NOT_FOUND ? 404 : 400, List.of(issue));
  }

  /** What the caller may not do. */
  static FhirRefusal of(Denial denial) {
    return new FhirRefusal(denial.status(), List.of(denial.issue()), Optional.of(denial));
  }

  /** Whether it is about what the caller may do, which nobody can wish to be passed over. */
  boolean denies() {
    return denial.isPresent();
  }

  /** Why the caller was not let in; empty for what is no such thing. */
  Optional<IssueCode> reason() {
    return denial.map(one -> one.issue().code());
  }

  /** The answer that it is. */
  HttpAnswer answer() {
    HttpAnswer answer = FhirAnswers.outcome(status, issues);
    return denial.map(one -> one.on(answer)).orElse(answer);
  }

  int status() {
    return status;
  }

  List<Issue> issues() {
    return issues;
  }
}
