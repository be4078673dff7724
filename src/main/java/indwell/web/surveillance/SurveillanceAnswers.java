package indwell.web.surveillance;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.intake.FactsResult;
import indwell.intake.FactsResultJson;
import indwell.port.StoreUnavailable;
import indwell.web.BodyReader;
import indwell.web.BodyReader.Refusal;
import indwell.web.HttpAnswer;
import indwell.web.StoreAway;
import indwell.web.access.Denial;
import io.vertx.core.buffer.Buffer;
import java.util.List;

/** Answers below {@code /surveillance}; refusals have the shape of a result. */
final class SurveillanceAnswers {
  static final String JSON = "application/json";

  /** Seconds after which a client that was turned away may come again. */
  private static final String RETRY_SECONDS = "1";

  private SurveillanceAnswers() {}

  /** JSON that no cache keeps. */
  static HttpAnswer json(int status, byte[] body) {
    HttpAnswer answer =
        HttpAnswer.of(status, JSON, Buffer.buffer(body)).with("Cache-Control", "no-store");
    return status == 429 || status == 503 ? answer.with("Retry-After", RETRY_SECONDS) : answer;
  }

  static HttpAnswer of(int status, FactsResult result) {
    return json(status, FactsResultJson.object(result)).because(result.issues());
  }

  static HttpAnswer refused(int status, List<Issue> issues) {
    return of(status, FactsResult.refused(issues));
  }

  static HttpAnswer refused(int status, IssueCode code, String sentence) {
    return refused(status, List.of(Issue.error(code, "", sentence)));
  }

  static HttpAnswer failed(int status, IssueCode code, String sentence) {
    return of(status, FactsResult.failed(Issue.error(code, "", sentence)));
  }

  static HttpAnswer denied(Denial denial) {
    return denial.on(refused(denial.status(), List.of(denial.issue())));
  }

  static HttpAnswer storeAway(StoreUnavailable away) {
    return failed(
        503,
        StoreAway.code(away),
        StoreAway.sentence(
            away, "The store is away and nothing was written; expected the request again later."));
  }

  static HttpAnswer fault(long number) {
    return failed(
        500, IssueCode.INTERNAL, "The service failed; its log has this as fault " + number + ".");
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

  /**
   * What a body is answered that could not be taken.
   *
   * @param most bytes that it may have
   */
  static HttpAnswer of(Refusal refusal, int most) {
    return switch (refusal) {
      case NO_ROOM -> busy();
      case TOO_LARGE ->
          refused(
              413,
              IssueCode.TOO_LARGE,
              "The body is too large; expected at most " + most + " bytes.");
      case TOO_SLOW ->
          failed(
              408,
              IssueCode.BUSY,
              "The body did not arrive in "
                  + BodyReader.DEADLINE_MILLIS / 1000
                  + " seconds; expected it within that time.");
    };
  }

  static HttpAnswer mediaType(String expected) {
    return refused(
        415,
        IssueCode.MEDIA_TYPE,
        "The media type of the body is none that is read here; expected " + expected + ".");
  }

  static HttpAnswer unknownPath() {
    return refused(
        404,
        IssueCode.NOT_FOUND,
        "Nothing is found at this address; expected /surveillance, /surveillance/candidates,"
            + " /surveillance/{ward}/{yyyy-MM} or /surveillance/{ward}/{yyyy-MM}/versions.");
  }

  static HttpAnswer wrongMethod(String allowed) {
    return refused(
            405,
            IssueCode.METHOD_NOT_ALLOWED,
            "The method is not allowed here; expected " + allowed + ".")
        .with("Allow", allowed);
  }
}
