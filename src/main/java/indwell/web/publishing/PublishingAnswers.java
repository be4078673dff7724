package indwell.web.publishing;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.intake.FactsResult;
import indwell.intake.FactsResultJson;
import indwell.port.Backlog;
import indwell.port.LaneHold;
import indwell.port.StoreUnavailable;
import indwell.usecase.publish.Publishing.Standing;
import indwell.usecase.publish.Publishing.Status;
import indwell.web.HttpAnswer;
import indwell.web.StoreAway;
import indwell.web.access.Denial;
import io.vertx.core.buffer.Buffer;
import io.vertx.core.json.JsonArray;
import io.vertx.core.json.JsonObject;
import java.time.Duration;
import java.util.List;
import java.util.Locale;

/** Answers below {@code /publishing}; refusals have the shape of a result. */
final class PublishingAnswers {
  private static final String JSON = "application/json";

  private PublishingAnswers() {}

  /** How it is doing; of a resource its reference, nothing of what is in it. */
  static HttpAnswer status(Status status) {
    Backlog backlog = status.backlog();
    JsonObject json =
        new JsonObject()
            .put("state", word(status.state()))
            .put("target", status.target())
            .put("asOf", status.at().toString())
            .put("waiting", backlog.waiting())
            .put("unread", backlog.unread())
            .put("parked", status.parked())
            .put("sentSinceStart", status.sent())
            .put("conflictsSettledSinceStart", status.settled());
    backlog
        .oldest()
        .ifPresent(
            oldest ->
                json.put("oldest", oldest.toString())
                    .put("lagSeconds", Duration.between(oldest, status.at()).toSeconds()));
    status.connection().ifPresent(hold -> json.put("connection", hold(hold)));
    JsonArray standing = new JsonArray();
    for (Standing one : status.standing()) {
      standing.add(
          hold(one.hold()).put("resource", one.hold().resource()).put("waiting", one.waiting()));
    }
    json.put("standing", standing);
    return json(200, json.toBuffer());
  }

  private static JsonObject hold(LaneHold hold) {
    JsonObject json =
        new JsonObject()
            .put("parked", hold.parked())
            .put("reason", hold.reason())
            .put("since", hold.since().toString())
            .put("attempts", hold.attempts());
    return hold.parked() ? json : json.put("nextTry", hold.nextTry().toString());
  }

  private static String word(Enum<?> state) {
    return state.name().toLowerCase(Locale.ROOT);
  }

  private static HttpAnswer json(int status, Buffer body) {
    return HttpAnswer.of(status, JSON, body).with("Cache-Control", "no-store");
  }

  private static HttpAnswer refused(int status, IssueCode code, String sentence) {
    return result(status, FactsResult.refused(List.of(Issue.error(code, "", sentence))));
  }

  private static HttpAnswer failed(int status, IssueCode code, String sentence) {
    return result(status, FactsResult.failed(Issue.error(code, "", sentence)));
  }

  private static HttpAnswer result(int status, FactsResult result) {
    return json(status, Buffer.buffer(FactsResultJson.object(result))).because(result.issues());
  }

  static HttpAnswer denied(Denial denial) {
    return denial.on(result(denial.status(), FactsResult.refused(List.of(denial.issue()))));
  }

  static HttpAnswer notStanding(String what) {
    return refused(
        404,
        IssueCode.NOT_PARKED,
        what + " does not stand still; expected one that GET /publishing lists.");
  }

  static HttpAnswer off() {
    return refused(
        409,
        IssueCode.PUBLISHING_OFF,
        "Nothing is published by this service; expected INDWELL_PUBLISH_URL to be set.");
  }

  static HttpAnswer foreign() {
    return refused(
        403,
        IssueCode.FORM_FROM_ELSEWHERE,
        "The request comes from a page of another service; expected none, or one of this service.");
  }

  static HttpAnswer unknownPath() {
    return refused(
        404,
        IssueCode.NOT_FOUND,
        "Nothing is found at this address; expected /publishing, /publishing/connection/$release,"
            + " /publishing/parked/{type}/{id}/$release or /publishing/parked/{type}/{id}/$skip.");
  }

  static HttpAnswer wrongMethod(String allowed) {
    return refused(
            405,
            IssueCode.METHOD_NOT_ALLOWED,
            "The method is not allowed here; expected " + allowed + ".")
        .with("Allow", allowed);
  }

  static HttpAnswer storeAway(StoreUnavailable away) {
    return failed(
            503,
            StoreAway.code(away),
            StoreAway.sentence(
                away,
                "The store is away and nothing was written; expected the request again later."))
        .with("Retry-After", "1");
  }

  static HttpAnswer stopping() {
    return failed(
            503,
            IssueCode.BUSY,
            "The service is stopping; expected the request again when it is back.")
        .with("Retry-After", "1");
  }

  static HttpAnswer fault(long number) {
    return failed(
        500, IssueCode.INTERNAL, "The service failed; its log has this as fault " + number + ".");
  }
}
