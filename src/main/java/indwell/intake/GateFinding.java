package indwell.intake;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;

/**
 * A fault of one value in well-formed JSON.
 *
 * @param path where it stands, such as {@code details.steps} or {@code entry[3].id}; within an
 *     element of an array body, relative to the element; empty for the whole
 * @param sentence what is wrong and what was expected
 */
public record GateFinding(IssueCode code, String path, String sentence) {

  /** The finding as an error of an answer. */
  public Issue issue() {
    return Issue.error(code, path, sentence);
  }
}
