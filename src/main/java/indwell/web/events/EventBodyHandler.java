package indwell.web.events;

import indwell.domain.refusal.IssueCode;
import indwell.intake.EventBodies;
import indwell.intake.EventBody;
import indwell.intake.EventResult;
import indwell.intake.EventResultJson;
import indwell.intake.Outcome;
import indwell.intake.Reading;
import indwell.web.HttpAnswer;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

/** Answers a body that is one event or an array of them; waits for the store. */
final class EventBodyHandler {
  private final Recorder recorder;

  EventBodyHandler(Recorder recorder) {
    this.recorder = recorder;
  }

  /**
   * @param now the service's clock when the request was taken
   */
  HttpAnswer answer(byte[] bytes, Instant now) {
    EventBody body = EventBodies.read(bytes, now);
    if (body instanceof EventBody.Batch batch) {
      return batch(batch.readings(), now);
    }
    if (body instanceof EventBody.Single single) {
      EventResult result = recorder.record(single.reading(), now);
      return EventAnswers.of(result.status(), result);
    }
    EventBody.Rejected rejected = (EventBody.Rejected) body;
    return EventAnswers.of(rejected.status(), rejected.result());
  }

  /**
   * Each event is a transaction of its own. When the store goes away, the events behind are not
   * tried one by one; when it is away from the start, the whole request is turned away.
   */
  private HttpAnswer batch(List<Reading> readings, Instant now) {
    List<EventResult> results = new ArrayList<>(readings.size());
    for (Reading reading : readings) {
      EventResult result = recorder.record(reading, now);
      if (turnsAway(result)) {
        if (results.stream().noneMatch(EventBodyHandler::wrote)) {
          return EventAnswers.of(result.status(), EventResult.failed(result.issues().get(0)));
        }
        return array(filledUp(results, readings.subList(results.size(), readings.size()), result));
      }
      results.add(result.at(results.size() + 1));
    }
    return array(results);
  }

  private static List<EventResult> filledUp(
      List<EventResult> results, List<Reading> rest, EventResult away) {
    for (Reading reading : rest) {
      EventResult result =
          reading instanceof Reading.Accepted accepted
              ? EventResult.of(accepted.version(), Outcome.FAILED, List.of(), away.issues())
              : EventResult.of((Reading.Refused) reading);
      results.add(result.at(results.size() + 1));
    }
    return results;
  }

  private static HttpAnswer array(List<EventResult> results) {
    return EventAnswers.json(200, EventResultJson.array(results));
  }

  private static boolean wrote(EventResult result) {
    return result.outcome() == Outcome.RECORDED || result.outcome() == Outcome.SUPERSEDED;
  }

  /** Whether the service cannot record anything at this moment. */
  static boolean turnsAway(EventResult result) {
    return result.outcome() == Outcome.FAILED
        && result.issues().stream()
            .anyMatch(
                issue ->
                    issue.code() == IssueCode.STORE_UNAVAILABLE || issue.code() == IssueCode.BUSY);
  }
}
