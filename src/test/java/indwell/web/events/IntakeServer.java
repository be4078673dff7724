package indwell.web.events;

import indwell.access.Caller;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.intake.EventResult;
import indwell.intake.Outcome;
import indwell.intake.Reading;
import indwell.usecase.Received;
import indwell.web.LocalServer;
import indwell.web.access.Visit;
import io.vertx.core.Vertx;
import io.vertx.core.http.HttpServer;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;

/** The event intake alone on a free port, before a recorder that a test decides about. */
final class IntakeServer implements AutoCloseable {
  static final Clock CLOCK = Clock.fixed(Instant.parse("2026-03-10T12:00:00Z"), ZoneOffset.UTC);

  private final Vertx vertx = Vertx.vertx();
  private final EventIntake intake;
  private final HttpServer server;
  final AtomicInteger recorded = new AtomicInteger();

  /** Decides about one event after the other. */
  @FunctionalInterface
  interface Each {
    EventResult record(Reading reading, Instant now);
  }

  IntakeServer(Each recorder, EventLimits limits, Path spool) throws Exception {
    Recorder counting =
        events -> {
          List<EventResult> results = new ArrayList<>();
          for (Received event : events) {
            results.add(recorder.record(event.reading(), event.at()));
            recorded.incrementAndGet();
          }
          return results;
        };
    intake = new EventIntake(vertx, counting, CLOCK, limits, spool);
    server = LocalServer.of(vertx, request -> intake.handle(request, Visit.by(Caller.DEVELOPMENT)));
  }

  int port() {
    return server.actualPort();
  }

  EventIntake intake() {
    return intake;
  }

  /** Answers as a store would that is empty and never fails. */
  static EventResult accept(Reading reading, Instant now) {
    return reading instanceof Reading.Accepted accepted
        ? EventResult.of(accepted.version(), Outcome.RECORDED, List.of("Observation/x"), List.of())
        : EventResult.of((Reading.Refused) reading);
  }

  static EventResult storeAway(Reading reading, Instant now) {
    return reading instanceof Reading.Accepted accepted
        ? EventResult.of(
            accepted.version(),
            Outcome.FAILED,
            List.of(),
            List.of(Issue.error(IssueCode.STORE_UNAVAILABLE, "", "The store is away.")))
        : EventResult.of((Reading.Refused) reading);
  }

  static String weight(int number) {
    return ("{\"source\":\"ward\",\"eventId\":\"e%d\",\"type\":\"weight-measured\","
            + "\"occurredAt\":\"2026-03-10T08:00:00Z\","
            + "\"patient\":{\"system\":\"urn:test:mrn\",\"value\":\"p%d\"},"
            + "\"details\":{\"kg\":70}}")
        .formatted(number, number);
  }

  @Override
  public void close() throws Exception {
    intake.stop();
    vertx.close().toCompletionStage().toCompletableFuture().get(10, TimeUnit.SECONDS);
  }
}
