package indwell.usecase.transaction;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.bundle.Modifiers;
import indwell.fhir.bundle.StatedTimes;
import indwell.fhir.bundle.StatedTimes.StatedTime;
import java.util.ArrayList;
import java.util.List;

/** Refuses what is valid FHIR and still cannot be taken for what it says. */
final class Understood {
  private Understood() {}

  /**
   * Refuses modifiers, and times that are no instants.
   *
   * @throws Refused 422 with all of them
   */
  static void require(Sent sent) {
    Entry entry = sent.entry();
    List<Issue> issues = new ArrayList<>(Modifiers.of(sent.resource(), entry::inResource));
    if (!sent.takenBack()) {
      StatedTimes.partial(sent.resource()).forEach(time -> issues.add(partial(entry, time)));
    }
    if (!issues.isEmpty()) {
      throw new Refused(422, issues);
    }
  }

  /** A day alone would be recorded at an instant that nobody stated. */
  private static Issue partial(Entry entry, StatedTime time) {
    return Issue.error(
        IssueCode.UNREADABLE_TIME,
        entry.inResource(time.element()),
        "Time "
            + Words.shown(time.text())
            + " of element "
            + time.element()
            + " is unreadable; expected a date-time with seconds and an offset, such as"
            + " 2026-03-01T08:30:00+01:00.");
  }
}
