package indwell.intake;

import indwell.domain.candidate.CandidateQuestion;
import indwell.domain.event.BusinessId;
import indwell.domain.refusal.Issue;
import java.util.List;

/** What was read of a body with a question about candidates. */
public sealed interface CandidateBody permits CandidateBody.Accepted, CandidateBody.Rejected {

  /** A question that can be answered. */
  record Accepted(BusinessId patient, CandidateQuestion question) implements CandidateBody {}

  /**
   * Not a question.
   *
   * @param status 400 for what is no such body, 413 for too much, 422 for what cannot be true
   * @param issues what is wrong, and where
   */
  record Rejected(int status, List<Issue> issues) implements CandidateBody {
    public Rejected {
      issues = List.copyOf(issues);
    }
  }
}
