package indwell.intake;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Reads the bodies of the event intake: one object, an array of them, or one line of a stream. */
public final class EventBodies {
  /** Bytes of one event, and of one line of a stream without its line end. */
  public static final int MAX_EVENT_BYTES = 64 * 1024;

  /** Bytes of an array. */
  public static final int MAX_ARRAY_BYTES = 16 * 1024 * 1024;

  /** Elements of an array. */
  public static final int MAX_EVENTS = 1_000;

  /** An event is four objects deep; the rest is room for faults to be told apart. */
  private static final int MAX_DEPTH = 32;

  /** A single event is read to its end however deep it is, to tell broken syntax from depth. */
  static final GateLimits SINGLE =
      new GateLimits(
          MAX_DEPTH, MAX_EVENT_BYTES, MAX_EVENT_BYTES, Integer.MAX_VALUE, MAX_EVENT_BYTES);

  private static final GateLimits ARRAY =
      new GateLimits(MAX_DEPTH, MAX_DEPTH, MAX_EVENT_BYTES, MAX_EVENTS, MAX_EVENT_BYTES);

  private EventBodies() {}

  /**
   * Reads a body that is complete.
   *
   * @param now the service's clock
   */
  public static EventBody read(byte[] body, Instant now) {
    boolean array = firstCharacter(body) == '[';
    int most = array ? MAX_ARRAY_BYTES : MAX_EVENT_BYTES;
    if (body.length > most) {
      return rejected(413, tooManyBytes(most));
    }
    return array ? batch(body, now) : single(body, now);
  }

  /** Reads one line of a stream, which is to be one object. */
  public static Reading line(byte[] line, Instant now) {
    if (line.length > MAX_EVENT_BYTES) {
      return tooLargeLine();
    }
    GateResult result = JsonGate.read(line, SINGLE);
    if (result instanceof GateResult.Stopped stopped) {
      return Reading.Refused.unread(List.of(issue(stopped)));
    }
    GateResult.Tree tree = (GateResult.Tree) result;
    return element(tree.root(), tree.findings(), now);
  }

  /** What a line is answered that was dropped for its size. */
  public static Reading.Refused tooLargeLine() {
    return Reading.Refused.unread(List.of(tooManyBytes(MAX_EVENT_BYTES)));
  }

  /** The issue of a body, event or line with more bytes than allowed. */
  public static Issue tooManyBytes(int most) {
    return Issue.error(
        IssueCode.TOO_LARGE,
        "",
        "The text is larger than " + most + " bytes; expected at most that.");
  }

  /**
   * The issue of a body that is not sent as JSON.
   *
   * @param given what the request says of its body, if anything
   */
  public static Issue unsupportedMediaType(Optional<String> given) {
    return Issue.error(
        IssueCode.MEDIA_TYPE,
        "",
        given
                .map(type -> "Media type " + Quoted.text(type) + " is not read")
                .orElse("No media type is given")
            + "; expected application/json or application/x-ndjson.");
  }

  private static EventBody batch(byte[] body, Instant now) {
    List<Reading> readings = new ArrayList<>();
    GateResult result =
        JsonGate.read(
            body,
            ARRAY,
            element -> readings.add(element(element.value(), element.findings(), now)));
    if (result instanceof GateResult.Stopped stopped) {
      return rejected(stopped.code() == IssueCode.TOO_MANY_EVENTS ? 413 : 400, issue(stopped));
    }
    return new EventBody.Batch(readings);
  }

  private static EventBody single(byte[] body, Instant now) {
    GateResult result = JsonGate.read(body, SINGLE);
    if (result instanceof GateResult.Stopped stopped) {
      return rejected(400, issue(stopped));
    }
    GateResult.Tree tree = (GateResult.Tree) result;
    if (tree.root() instanceof Map<?, ?> event) {
      return new EventBody.Single(EventReader.read(event, tree.findings(), now));
    }
    return rejected(
        400,
        Issue.error(
            IssueCode.NOT_AN_EVENT_BODY,
            "",
            "The body is %s; expected an object or an array of objects."
                .formatted(Quoted.value(tree.root()))));
  }

  private static Reading element(Object value, List<GateFinding> findings, Instant now) {
    if (value instanceof Map<?, ?> event) {
      return EventReader.read(event, findings, now);
    }
    Faults faults = new Faults(findings);
    if (!faults.any()) {
      faults.add(
          IssueCode.NOT_AN_OBJECT,
          "",
          "The event is " + Quoted.value(value) + "; expected an object.");
    }
    return Reading.Refused.unread(faults.issues());
  }

  private static EventBody rejected(int status, Issue issue) {
    return new EventBody.Rejected(status, EventResult.refused(issue));
  }

  private static Issue issue(GateResult.Stopped stopped) {
    return Issue.error(stopped.code(), "", stopped.sentence());
  }

  private static int firstCharacter(byte[] body) {
    for (byte b : body) {
      if (b != ' ' && b != '\t' && b != '\n' && b != '\r') {
        return b;
      }
    }
    return -1;
  }
}
