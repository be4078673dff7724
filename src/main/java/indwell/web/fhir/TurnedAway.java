package indwell.web.fhir;

import indwell.domain.refusal.IssueCode;
import indwell.web.BodyReader;
import indwell.web.BodyReader.Refusal;
import indwell.web.HttpAnswer;

/** Answers to requests that no interaction takes: too much, too slow, too many, or too late. */
final class TurnedAway {
  private TurnedAway() {}

  static HttpAnswer answerTo(Refusal refusal) {
    return switch (refusal) {
      case TOO_LARGE ->
          FhirAnswers.outcome(
              413,
              IssueCode.TOO_LARGE,
              "The body is too large; expected at most " + FhirEndpoint.MAX_BODY_BYTES + " bytes.");
      case NO_ROOM -> busy();
      case TOO_SLOW ->
          FhirAnswers.outcome(
              408,
              IssueCode.BUSY,
              "The body did not arrive in "
                  + BodyReader.DEADLINE_MILLIS / 1000
                  + " seconds; expected it within that time.");
    };
  }

  static HttpAnswer busy() {
    return FhirAnswers.outcome(
        429,
        IssueCode.BUSY,
        "The service has as much in work as it can hold; expected the request again later.");
  }

  static HttpAnswer stoppingAnswer() {
    FhirRefusal refusal = stopping();
    return FhirAnswers.outcome(refusal.status(), refusal.issues());
  }

  static FhirRefusal stopping() {
    return FhirRefusal.of(
        503,
        IssueCode.BUSY,
        "",
        "The service is stopping; expected the request again when it is back.");
  }
}
