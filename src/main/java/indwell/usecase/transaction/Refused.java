package indwell.usecase.transaction;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import java.util.List;

/** A transaction that is not taken; nothing of it was written. */
public final class Refused extends RuntimeException {
  private static final long serialVersionUID = 1L;

  private final int status;
  private final transient List<Issue> issues;

  /**
   * @param status the HTTP status that says so
   */
  Refused(int status, List<Issue> issues) {
    // No message and no stack: it is an answer, and answers may name patients.
    super(null, null, false, false);
    this.status = status;
    this.issues = List.copyOf(issues);
  }

  static Refused of(int status, IssueCode code, String expression, String sentence) {
    return new Refused(status, List.of(Issue.error(code, expression, sentence)));
  }

  /** The HTTP status that says so, a 4xx. */
  public int status() {
    return status;
  }

  /** Why, at least one; each points into the Bundle. */
  public List<Issue> issues() {
    return issues;
  }
}
