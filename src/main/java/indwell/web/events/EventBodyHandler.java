package indwell.web.events;

import indwell.domain.refusal.IssueCode;
import indwell.intake.EventBodies;
import indwell.intake.EventBody;
import indwell.intake.EventResult;
import indwell.intake.EventResultJson;
import indwell.intake.Outcome;
import indwell.intake.Reading;
import indwell.port.trace.Errand;
import indwell.usecase.Received;
import indwell.web.HttpAnswer;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;

/** Answers a body that is one event or an array of them; waits for the store. */
final class EventBodyHandler {
  private final AuditedRecorder recorder;

  EventBodyHandler(AuditedRecorder recorder) {
    this.recorder = recorder;
  }

  /**
   * @param now the service's clock when the request was taken
   */
  HttpAnswer answer(byte[] bytes, Instant now) {
    EventBody body = Errand.part("events.read", () -> EventBodies.read(bytes, now));
    if (body instanceof EventBody.Batch batch) {
      return batch(batch.readings(), now);
    }
    if (body instanceof EventBody.Single single) {
      EventResult result =
          recorder.record(List.of(recorder.received(single.reading(), now))).get(0);
      return EventAnswers.of(result.status(), result);
    }
    EventBody.Rejected rejected = (EventBody.Rejected) body;
    return EventAnswers.of(rejected.status(), rejected.result());
  }

  /**
   * When the store goes away, the events behind are not tried; when it is away from the start, the
   * whole request is turned away.
   */
  private HttpAnswer batch(List<Reading> readings, Instant now) {
    List<EventResult> results = new ArrayList<>(readings.size());
    while (results.size() < readings.size()) {
      results.addAll(recorder.record(part(readings, results.size(), now)));
      Optional<EventResult> away = results.stream().filter(EventBodyHandler::turnsAway).findFirst();
      if (away.isPresent()) {
        if (results.stream().noneMatch(EventBodyHandler::wrote)) {
          return EventAnswers.of(
              away.get().status(), EventResult.failed(away.get().issues().get(0)));
        }
        fillUp(results, readings, away.get());
      }
    }
    return array(results);
  }

  private List<Received> part(List<Reading> readings, int from, Instant now) {
    return readings.subList(from, Math.min(from + Recorder.MOST, readings.size())).stream()
        .map(reading -> recorder.received(reading, now))
        .toList();
  }

  private static void fillUp(List<EventResult> results, List<Reading> readings, EventResult away) {
    for (Reading reading : readings.subList(results.size(), readings.size())) {
      results.add(
          reading instanceof Reading.Accepted accepted
              ? EventResult.of(accepted.version(), Outcome.FAILED, List.of(), away.issues())
              : EventResult.of((Reading.Refused) reading));
    }
  }

  private static HttpAnswer array(List<EventResult> results) {
    return EventAnswers.json(
        200,
        EventResultJson.array(
            IntStream.range(0, results.size())
                .mapToObj(place -> results.get(place).at(place + 1))
                .toList()));
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
