package indwell.web.events;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.intake.EventBodies;
import indwell.intake.EventResult;
import indwell.intake.EventResultJson;
import indwell.web.BodyReader;
import indwell.web.HttpAnswer;
import indwell.web.access.Denial;
import io.vertx.core.buffer.Buffer;
import java.util.Optional;

/** Answers of the intake that are about a whole request, in the shape of a result. */
final class EventAnswers {
  static final String JSON = "application/json";
  static final String NDJSON = "application/x-ndjson";

  /** Seconds after which a client that was turned away may come again. */
  private static final String RETRY_SECONDS = "1";

  private EventAnswers() {}

  /** One result as the whole answer. */
  static HttpAnswer of(int status, EventResult result) {
    HttpAnswer answer = json(status, EventResultJson.object(result)).because(result.issues());
    return status == 429 || status == 503 ? answer.with("Retry-After", RETRY_SECONDS) : answer;
  }

  /** JSON that no cache keeps, because it names events of patients. */
  static HttpAnswer json(int status, byte[] body) {
    return HttpAnswer.of(status, JSON, Buffer.buffer(body)).with("Cache-Control", "no-store");
  }

  static HttpAnswer refused(int status, Issue issue) {
    return of(status, EventResult.refused(issue));
  }

  static HttpAnswer failed(int status, IssueCode code, String sentence) {
    return of(status, EventResult.failed(Issue.error(code, "", sentence)));
  }

  static HttpAnswer denied(Denial denial) {
    return denial.on(refused(denial.status(), denial.issue()));
  }

  static HttpAnswer busy() {
    return failed(
        429,
        IssueCode.BUSY,
        "The service has as much in work as it can hold; expected the request again later.");
  }

  static HttpAnswer stopping() {
    return failed(
        503,
        IssueCode.BUSY,
        "The service is stopping; expected the request again when it is back.");
  }

  static HttpAnswer notAudited() {
    return failed(
        503,
        IssueCode.AUDIT_FULL,
        "The audit trail cannot be written and nothing is done without it; expected the event"
            + " again later.");
  }

  static HttpAnswer fault(long number) {
    return failed(
        500, IssueCode.INTERNAL, "The service failed; its log has this as fault " + number + ".");
  }

  static HttpAnswer tooLarge() {
    return refused(413, EventBodies.tooManyBytes(EventBodies.MAX_ARRAY_BYTES));
  }

  static HttpAnswer tooSlow() {
    return failed(
        408,
        IssueCode.BUSY,
        "The body did not arrive in "
            + BodyReader.DEADLINE_MILLIS / 1000
            + " seconds; expected it within that time.");
  }

  static HttpAnswer mediaType(Optional<String> given) {
    return refused(415, EventBodies.unsupportedMediaType(given));
  }

  static HttpAnswer encoding() {
    return refused(
        415,
        Issue.error(
            IssueCode.MEDIA_TYPE,
            "",
            "A compressed body is not read; expected one without Content-Encoding."));
  }

  static HttpAnswer version() {
    return refused(
        505,
        Issue.error(
            IssueCode.MEDIA_TYPE,
            "",
            "HTTP/1.0 cannot carry a stream of answers; expected HTTP/1.1."));
  }

  static HttpAnswer method(String given) {
    return refused(
            405,
            Issue.error(
                IssueCode.METHOD_NOT_ALLOWED,
                "",
                "Method " + given + " is not allowed on /events; expected POST."))
        .with("Allow", "POST");
  }
}
