package indwell.intake;

import indwell.domain.refusal.Issue;
import indwell.domain.surveillance.MonthFacts;
import indwell.domain.surveillance.WardMonth;
import java.util.List;

/** What was read of the facts of one ward and month. */
public sealed interface FactsReading permits FactsReading.Accepted, FactsReading.Refused {

  /** Facts that can be true. */
  record Accepted(WardMonth month, MonthFacts facts) implements FactsReading {}

  /**
   * Facts that cannot be read, or cannot be true.
   *
   * @param issues all faults, at least one
   */
  record Refused(List<Issue> issues) implements FactsReading {
    public Refused {
      issues = List.copyOf(issues);
    }
  }
}
