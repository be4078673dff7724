package indwell.intake;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.domain.time.FacilityCalendar;
import java.time.Instant;
import java.util.List;
import java.util.Map;

/** Reads a question about candidates, sent as one object. */
public final class CandidateBodies {
  /** Bytes of a body. */
  public static final int MAX_BYTES = 256 * 1024;

  private static final int MAX_DEPTH = 32;

  /** Read to its end however deep it is, to tell broken syntax from depth. */
  private static final GateLimits LIMITS =
      new GateLimits(MAX_DEPTH, MAX_BYTES, MAX_BYTES, Integer.MAX_VALUE, MAX_BYTES);

  private CandidateBodies() {}

  /**
   * Reads a body.
   *
   * @param now the service's clock, which no date is ahead of
   * @param calendar the facility's, by which times become dates
   */
  public static CandidateBody read(byte[] body, Instant now, FacilityCalendar calendar) {
    if (body.length > MAX_BYTES) {
      return rejected(413, EventBodies.tooManyBytes(MAX_BYTES));
    }
    GateResult result = JsonGate.read(body, LIMITS);
    if (result instanceof GateResult.Stopped stopped) {
      return rejected(400, Issue.error(stopped.code(), "", stopped.sentence()));
    }
    GateResult.Tree tree = (GateResult.Tree) result;
    return tree.root() instanceof Map<?, ?> fields
        ? CandidateReader.read(fields, tree.findings(), now, calendar)
        : rejected(
            400,
            Issue.error(
                IssueCode.NOT_A_QUESTION,
                "",
                "The body is " + Quoted.value(tree.root()) + "; expected an object."));
  }

  private static CandidateBody rejected(int status, Issue issue) {
    return new CandidateBody.Rejected(status, List.of(issue));
  }
}
