package indwell.intake;

import indwell.domain.event.EventVersion;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;

/**
 * The answer to one event (contract, section 2).
 *
 * @param index place in an array or stream, from 1; empty for a body that is one event
 * @param source if it could be read
 * @param eventId if it could be read
 * @param version if it could be read
 * @param resources references of the resources that the event made
 * @param issues what is to be said about it, errors and warnings
 */
public record EventResult(
    OptionalInt index,
    Optional<String> source,
    Optional<String> eventId,
    OptionalInt version,
    Outcome outcome,
    List<String> resources,
    List<Issue> issues) {

  private static final Set<IssueCode> SYNTAX =
      Set.of(IssueCode.MALFORMED_JSON, IssueCode.DUPLICATE_NAME, IssueCode.NOT_AN_EVENT_BODY);
  private static final Set<IssueCode> SIZE = Set.of(IssueCode.TOO_LARGE, IssueCode.TOO_MANY_EVENTS);
  private static final Set<IssueCode> PASSING = Set.of(IssueCode.STORE_UNAVAILABLE, IssueCode.BUSY);

  public EventResult {
    resources = List.copyOf(resources);
    issues = List.copyOf(issues);
  }

  /** The answer to an event that could be read. */
  public static EventResult of(
      EventVersion event, Outcome outcome, List<String> resources, List<Issue> issues) {
    return new EventResult(
        OptionalInt.empty(),
        Optional.of(event.key().source()),
        Optional.of(event.key().eventId()),
        OptionalInt.of(event.version()),
        outcome,
        resources,
        issues);
  }

  /** The answer to an event that could not be read. */
  public static EventResult of(Reading.Refused refused) {
    return new EventResult(
        OptionalInt.empty(),
        refused.source(),
        refused.eventId(),
        refused.version(),
        Outcome.REFUSED,
        List.of(),
        refused.issues());
  }

  /** The answer to a body of which no event could be read. */
  public static EventResult refused(Issue issue) {
    return of(Reading.Refused.unread(List.of(issue)));
  }

  /** The answer to a body that could not be dealt with by the service's own fault. */
  public static EventResult failed(Issue issue) {
    return new EventResult(
        OptionalInt.empty(),
        Optional.empty(),
        Optional.empty(),
        OptionalInt.empty(),
        Outcome.FAILED,
        List.of(),
        List.of(issue));
  }

  /** The same answer at a place in an array or stream, from 1. */
  public EventResult at(int place) {
    return new EventResult(
        OptionalInt.of(place), source, eventId, version, outcome, resources, issues);
  }

  /** The HTTP status when the body was this one event. */
  public int status() {
    return switch (outcome) {
      case RECORDED -> 201;
      case DUPLICATE, SUPERSEDED -> 200;
      case CONFLICT -> 409;
      case REFUSED -> statusOfRefusal();
      case FAILED -> has(PASSING) ? 503 : 500;
    };
  }

  private int statusOfRefusal() {
    if (has(Set.of(IssueCode.MEDIA_TYPE))) {
      return 415;
    }
    if (has(SYNTAX)) {
      return 400;
    }
    return has(SIZE) ? 413 : 422;
  }

  private boolean has(Set<IssueCode> codes) {
    return issues.stream().anyMatch(issue -> codes.contains(issue.code()));
  }
}
