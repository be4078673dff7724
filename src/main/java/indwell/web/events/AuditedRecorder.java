package indwell.web.events;

import indwell.intake.EventResult;
import indwell.intake.Outcome;
import indwell.intake.Reading;
import indwell.port.AuditEntry;
import indwell.port.trace.Errand;
import indwell.usecase.Received;
import indwell.usecase.audit.EventRows;
import indwell.web.access.Visit;
import java.time.Instant;
import java.util.List;
import java.util.concurrent.CompletionStage;

/**
 * Records the events of one request. Of what reaches the store the audit trail is told together
 * with it; of what was refused before, or has failed, it is told here: one row an event either way.
 */
final class AuditedRecorder {
  private final Recorder recorder;
  private final Visit visit;

  AuditedRecorder(Recorder recorder, Visit visit) {
    this.recorder = recorder;
    this.visit = visit;
  }

  /** An event of this request. */
  Received received(Reading reading, Instant at) {
    return new Received(reading, at, visit.origin());
  }

  /** As {@link Recorder#record} does. */
  List<EventResult> record(List<Received> events) {
    List<EventResult> results = Errand.part("events.record", () -> recorder.record(events));
    for (int i = 0; i < results.size(); i++) {
      if (results.get(i).outcome() == Outcome.REFUSED
          || results.get(i).outcome() == Outcome.FAILED) {
        visit.add(row(events.get(i), results.get(i)));
      }
    }
    visit.written();
    return results;
  }

  private static AuditEntry row(Received event, EventResult result) {
    return event.reading() instanceof Reading.Accepted accepted
        ? EventRows.of(event.origin(), accepted.version(), event.at(), result)
        : EventRows.unread(event.origin(), event.at(), result);
  }

  /** The answer begins before all is read. */
  void begin() {
    visit.stayOpen();
  }

  /** Whether the audit trail has room for what may be refused. */
  boolean hasRoom() {
    return visit.hasRoom();
  }

  /** Waits until what was refused so far is told, or cannot be: either way it is answered. */
  void settle() {
    visit.flush().toCompletableFuture().join();
  }

  /** Nothing more comes of the request. */
  void end(Instant now) {
    visit.end(200, now);
    CompletionStage<Boolean> unused = visit.flush();
  }
}
