package indwell.web.events;

import indwell.intake.EventBodies;
import indwell.intake.EventResult;
import indwell.intake.EventResultJson;
import indwell.intake.LineSplitter;
import indwell.intake.LineSplitter.Line;
import indwell.intake.Reading;
import indwell.port.trace.Errand;
import indwell.usecase.Received;
import indwell.web.Exchange;
import indwell.web.FaultLog;
import io.vertx.core.buffer.Buffer;
import io.vertx.core.http.HttpServerRequest;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.util.List;
import java.util.concurrent.Executor;
import java.util.concurrent.RejectedExecutionException;
import java.util.function.Consumer;

/**
 * One stream of events: lines are recorded in order on one worker at a time, and answered in the
 * same order while further lines arrive. When lines wait to be recorded, reading slows down; it
 * never does so because answers are unread.
 */
final class EventStream {
  private final Exchange exchange;
  private final AuditedRecorder recorder;
  private final Clock clock;
  private final Executor workers;
  private final Consumer<EventStream> released;
  private final LineQueue queue;
  private final LineSplitter splitter;
  private final AnswerSpool spool;
  private final AnswerPump pump;
  private volatile boolean stopping;
  private volatile boolean waiting;
  private boolean over;

  /** How many events have been answered; only the worker whose turn it is touches it. */
  private int answered;

  /**
   * @param spoolDirectory where unread answers go that do not fit into memory
   * @param released called once, when the stream holds nothing any more
   */
  EventStream(
      Exchange exchange,
      AuditedRecorder recorder,
      Clock clock,
      Executor workers,
      EventLimits limits,
      Path spoolDirectory,
      Consumer<EventStream> released) {
    this.exchange = exchange;
    this.recorder = recorder;
    this.clock = clock;
    this.workers = workers;
    this.released = released;
    this.queue = new LineQueue(limits.waitingLines(), limits.waitingBytes());
    this.splitter = new LineSplitter(EventBodies.MAX_EVENT_BYTES, queue::add);
    this.spool = new AnswerSpool(limits.spoolBytes(), spoolDirectory);
    this.pump = new AnswerPump(exchange, spool, workers);
  }

  /** Begins to read; on the event loop. */
  void start() {
    HttpServerRequest request = exchange.request();
    recorder.begin();
    request.response().closeHandler(ignored -> release());
    request.response().endHandler(ignored -> release());
    request.exceptionHandler(ignored -> breakOff());
    request.handler(this::read);
    request.endHandler(ignored -> readEnd());
    exchange.invite();
  }

  /** Cuts the stream after the event in work; callable from any thread. */
  void stop() {
    stopping = true;
    exchange.onLoop(
        () -> {
          queue.end();
          schedule();
        });
  }

  private void read(Buffer chunk) {
    splitter.feed(chunk.getBytes());
    schedule();
    if (!waiting && queue.full()) {
      waiting = true;
      exchange.request().pause();
      // The worker may have emptied the queue before it could see that somebody waits.
      goOnReading();
    }
  }

  /** Only a body that came to its end has a last line without a line end. */
  private void readEnd() {
    splitter.finish();
    queue.end();
    schedule();
  }

  /** The body broke off in the middle: the piece of a line that is left is no event. */
  private void breakOff() {
    release();
    exchange.request().connection().close();
  }

  private void release() {
    if (!over) {
      over = true;
      recorder.end(clock.instant());
      pump.stop();
      queue.drop();
      closeSpool();
      released.accept(this);
    }
  }

  private void closeSpool() {
    try {
      spool.close();
    } catch (RuntimeException e) {
      FaultLog.write("answers of a stream", e);
    }
  }

  private void schedule() {
    if (queue.takeTurn()) {
      submit();
    }
  }

  private void submit() {
    try {
      workers.execute(this::work);
    } catch (RejectedExecutionException e) {
      pump.cut(EventAnswers.stopping());
    }
  }

  /** After a turn another stream may have the worker. */
  private void work() {
    try {
      if (workOnce()) {
        submit();
      }
    } catch (RuntimeException e) {
      long number = FaultLog.write("a stream of events", e);
      pump.cut(EventAnswers.fault(number));
    }
  }

  /** Records and answers the lines that wait; false when there is nothing more to do by now. */
  private boolean workOnce() {
    if (stopping) {
      pump.cut(EventAnswers.stopping());
      return false;
    }
    if (!recorder.hasRoom()) {
      pump.cut(EventAnswers.notAudited());
      return false;
    }
    List<Line> lines = queue.take(Recorder.MOST);
    if (lines.isEmpty()) {
      if (queue.finished()) {
        pump.complete();
      }
      return false;
    }
    goOnReading();
    return answer(lines);
  }

  private void goOnReading() {
    if (waiting && queue.hasRoom()) {
      exchange.onLoop(
          () -> {
            if (waiting && queue.hasRoom()) {
              waiting = false;
              exchange.request().resume();
            }
          });
    }
  }

  private boolean answer(List<Line> lines) {
    Instant now = clock.instant();
    List<Received> events =
        Errand.part(
            "events.read",
            () -> lines.stream().map(line -> recorder.received(read(line, now), now)).toList());
    List<EventResult> results = recorder.record(events);
    recorder.settle();
    for (EventResult result : results) {
      if (EventBodyHandler.turnsAway(result)) {
        pump.cut(EventAnswers.of(result.status(), result));
        return false;
      }
      answered++;
      spool.append(EventResultJson.line(result.at(answered)));
    }
    pump.wake();
    return true;
  }

  private static Reading read(Line line, Instant now) {
    return line.bytes()
        .map(bytes -> EventBodies.line(bytes, now))
        .orElseGet(EventBodies::tooLargeLine);
  }
}
