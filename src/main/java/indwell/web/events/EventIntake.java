package indwell.web.events;

import indwell.access.Need;
import indwell.access.OwnScope;
import indwell.intake.EventBodies;
import indwell.web.BodyReader;
import indwell.web.BodyReader.Body;
import indwell.web.BodyReader.Refusal;
import indwell.web.ByteBudget;
import indwell.web.Exchange;
import indwell.web.FaultLog;
import indwell.web.HttpAnswer;
import indwell.web.Workers;
import indwell.web.access.Denial;
import indwell.web.access.Visit;
import io.vertx.core.Vertx;
import io.vertx.core.http.HttpMethod;
import io.vertx.core.http.HttpServerRequest;
import io.vertx.core.http.HttpVersion;
import java.nio.file.Path;
import java.time.Clock;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.RejectedExecutionException;

/**
 * {@code POST /events}: decides what a request is, and turns it away where there is no room for it
 * (contract, section 2).
 */
public final class EventIntake {
  private static final List<Need> NEEDS = List.of(Need.of(OwnScope.EVENTS_WRITE));

  /** How long a stop waits for events in work. */
  private static final long STOP_MILLIS = 10_000;

  private final Vertx vertx;
  private final Recorder recorder;
  private final Clock clock;
  private final EventLimits limits;
  private final Path spoolDirectory;
  private final Workers workers;
  private final ByteBudget budget;
  private final Set<EventStream> streams = ConcurrentHashMap.newKeySet();
  private volatile boolean stopping;

  /**
   * @param spoolDirectory where unread answers go that do not fit into memory
   */
  public EventIntake(
      Vertx vertx, Recorder recorder, Clock clock, EventLimits limits, Path spoolDirectory) {
    this.vertx = vertx;
    this.recorder = recorder;
    this.clock = clock;
    this.limits = limits;
    this.spoolDirectory = spoolDirectory;
    this.workers = new Workers("indwell-events", limits.workers());
    this.budget = new ByteBudget(limits.bodyBytes());
  }

  /** Takes a request; on the event loop, before anything of its body has been read. */
  public void handle(HttpServerRequest request, Visit visit) {
    Exchange exchange = new Exchange(vertx, request, visit);
    if (!request.method().equals(HttpMethod.POST)) {
      exchange.send(EventAnswers.method(request.method().name()));
    } else if (stopping) {
      exchange.send(EventAnswers.stopping());
    } else {
      Denial.of(visit.caller().decide(NEEDS))
          .ifPresentOrElse(
              denial -> {
                visit.refused(denial.issue().code());
                exchange.send(EventAnswers.denied(denial));
              },
              () -> handlePost(exchange, visit));
    }
  }

  private void handlePost(Exchange exchange, Visit visit) {
    Optional<String> encoding = exchange.header("Content-Encoding");
    Optional<String> contentType = exchange.header("Content-Type");
    Optional<EventMediaType> type = EventMediaType.of(contentType);
    if (encoding.filter(name -> !name.equalsIgnoreCase("identity")).isPresent()) {
      exchange.send(EventAnswers.encoding());
    } else if (type.isEmpty()) {
      exchange.send(EventAnswers.mediaType(contentType));
    } else if (type.get() == EventMediaType.NDJSON) {
      stream(exchange, visit);
    } else {
      body(exchange, visit);
    }
  }

  private void stream(Exchange exchange, Visit visit) {
    if (exchange.request().version() == HttpVersion.HTTP_1_0) {
      exchange.send(EventAnswers.version());
      return;
    }
    if (streams.size() >= limits.streams()) {
      exchange.send(EventAnswers.busy());
      return;
    }
    EventStream stream =
        new EventStream(
            exchange,
            new AuditedRecorder(recorder, visit),
            clock,
            workers,
            limits,
            spoolDirectory,
            streams::remove);
    streams.add(stream);
    stream.start();
  }

  private void body(Exchange exchange, Visit visit) {
    new BodyReader(
            vertx,
            exchange,
            EventBodies.MAX_ARRAY_BYTES,
            budget,
            body -> work(exchange, visit, body),
            refusal -> exchange.send(answerTo(refusal)))
        .start();
  }

  private static HttpAnswer answerTo(Refusal refusal) {
    return switch (refusal) {
      case TOO_LARGE -> EventAnswers.tooLarge();
      case NO_ROOM -> EventAnswers.busy();
      case TOO_SLOW -> EventAnswers.tooSlow();
    };
  }

  private void work(Exchange exchange, Visit visit, Body body) {
    try {
      workers.execute(
          () -> {
            try {
              exchange.sendFromWorker(answer(visit, body));
            } finally {
              body.release().run();
            }
          });
    } catch (RejectedExecutionException e) {
      body.release().run();
      exchange.send(EventAnswers.stopping());
    }
  }

  private HttpAnswer answer(Visit visit, Body body) {
    try {
      AuditedRecorder recording = new AuditedRecorder(recorder, visit);
      return new EventBodyHandler(recording).answer(body.bytes().getBytes(), clock.instant());
    } catch (RuntimeException e) {
      return EventAnswers.fault(FaultLog.write("POST /events", e));
    }
  }

  /** Cuts the streams after the events in work; what else is under way goes on. */
  void endStreams() {
    streams.forEach(EventStream::stop);
  }

  /** Takes nothing more, finishes the events in work and cuts the streams. */
  public void stop() {
    stopping = true;
    endStreams();
    long deadline = System.nanoTime() + STOP_MILLIS * 1_000_000;
    while (!(streams.isEmpty() && budget.held() == 0) && System.nanoTime() < deadline) {
      pause();
    }
    workers.stop(STOP_MILLIS);
  }

  private static void pause() {
    try {
      Thread.sleep(20);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
