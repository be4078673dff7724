package indwell.intake;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.domain.surveillance.WardMonth;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;

/** Collects the faults of a whole body, up to a bound, each with its place. */
final class FactsIssues {
  private final List<Issue> issues = new ArrayList<>();
  private final Map<WardMonth, String> seen = new HashMap<>();

  /**
   * Adds faults of one element or row.
   *
   * @param place where in the body each of them is
   */
  void add(List<Issue> faults, Function<Issue, String> place) {
    for (Issue fault : faults) {
      if (issues.size() < Faults.MOST) {
        issues.add(Issue.error(fault.code(), place.apply(fault), fault.diagnostics()));
      }
    }
  }

  /** Finds a ward and month that stood in the body before. */
  void requireNew(WardMonth month, String place) {
    String before = seen.putIfAbsent(month, place);
    if (before != null) {
      Issue twice =
          Issue.error(
              IssueCode.FACTS_TWICE,
              "",
              "Ward "
                  + month.ward().code()
                  + " has facts of "
                  + month.month()
                  + " at "
                  + before
                  + " already; expected each ward and month once.");
      add(List.of(twice), issue -> place);
    }
  }

  boolean any() {
    return !issues.isEmpty();
  }

  List<Issue> all() {
    return List.copyOf(issues);
  }
}
