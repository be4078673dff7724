package indwell.intake;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import java.util.ArrayList;
import java.util.List;

/** Collects all faults of one event, up to a bound, so that its sender can mend them at once. */
final class Faults {
  /** As many faults are told; an event with more is answered with the first of them. */
  static final int MOST = 50;

  private final List<Issue> issues = new ArrayList<>();

  Faults(List<GateFinding> findings) {
    findings.forEach(finding -> issues.add(finding.issue()));
  }

  boolean any() {
    return !issues.isEmpty();
  }

  List<Issue> issues() {
    return List.copyOf(issues);
  }

  void add(IssueCode code, String path, String sentence) {
    if (issues.size() < MOST) {
      issues.add(Issue.error(code, path, sentence));
    }
  }

  /** A value of the wrong kind; silent where the gate has told of the value already. */
  void wrongType(String path, Object value, String expected) {
    if (value instanceof JsonMarker marker && marker != JsonMarker.NULL) {
      return;
    }
    add(
        IssueCode.WRONG_TYPE,
        path,
        "Field " + path + " is " + Quoted.value(value) + "; expected " + expected + ".");
  }

  void missing(String path, String expected) {
    add(IssueCode.MISSING_FIELD, path, "Field " + path + " is missing; expected " + expected + ".");
  }
}
