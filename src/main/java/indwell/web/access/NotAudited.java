package indwell.web.access;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import java.util.Optional;

/** What is said while the audit trail cannot be written. */
final class NotAudited {
  private NotAudited() {}

  /** Nobody is let in. */
  static Denial noRoom() {
    return unavailable(
        IssueCode.AUDIT_FULL,
        "The audit trail cannot be written and nothing is done without it; expected the"
            + " request again later.");
  }

  /** The answer was made and is not given. */
  static Denial withheld() {
    return unavailable(
        IssueCode.ANSWER_NOT_AUDITED,
        "The audit trail cannot be written at this moment and nothing is told without it;"
            + " expected the request again later.");
  }

  private static Denial unavailable(IssueCode code, String sentence) {
    return new Denial(503, Issue.error(code, "", sentence), Optional.empty());
  }
}
