package indwell.intake;

import indwell.domain.refusal.Issue;
import indwell.domain.surveillance.WardMonth;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * The answer to the facts of one ward and month, or to a whole body of them.
 *
 * @param month empty for a whole body
 * @param version the newest version afterwards; empty when there is none
 * @param issues what is to be said about it
 */
public record FactsResult(
    Optional<WardMonth> month, OptionalInt version, Outcome outcome, List<Issue> issues) {
  public FactsResult {
    issues = List.copyOf(issues);
  }

  /** What became of a request with facts. */
  public enum Outcome {
    /** Stored durably as a new version. */
    RECORDED("recorded"),
    /** The content was there already; nothing was written. */
    UNCHANGED("unchanged"),
    /** Broken, impossible or stale; nothing was written. */
    REFUSED("refused"),
    /** The service's own fault; nothing was written, and it may be sent again. */
    FAILED("failed");

    private final String code;

    Outcome(String code) {
      this.code = code;
    }

    /** The word as answers carry it. */
    public String code() {
      return code;
    }
  }

  /** Facts that are there now. */
  public static FactsResult of(WardMonth month, int version, boolean changed) {
    return new FactsResult(
        Optional.of(month),
        OptionalInt.of(version),
        changed ? Outcome.RECORDED : Outcome.UNCHANGED,
        List.of());
  }

  /** A whole request of which nothing was taken. */
  public static FactsResult refused(List<Issue> issues) {
    return new FactsResult(Optional.empty(), OptionalInt.empty(), Outcome.REFUSED, issues);
  }

  /** A request that the service could not deal with. */
  public static FactsResult failed(Issue issue) {
    return new FactsResult(Optional.empty(), OptionalInt.empty(), Outcome.FAILED, List.of(issue));
  }
}
