package indwell.intake;

import indwell.domain.refusal.Issue;
import java.util.List;

/** What was read of a body with facts. */
public sealed interface FactsBody permits FactsBody.Accepted, FactsBody.Rejected {

  /** All of it can be taken; each ward and month stands once. */
  record Accepted(List<FactsReading.Accepted> facts) implements FactsBody {
    public Accepted {
      facts = List.copyOf(facts);
    }
  }

  /**
   * Nothing of it is taken.
   *
   * @param status 400 for what is no such body, 413 for too much, 422 for facts that cannot be true
   * @param issues what is wrong, and where
   */
  record Rejected(int status, List<Issue> issues) implements FactsBody {
    public Rejected {
      issues = List.copyOf(issues);
    }
  }
}
