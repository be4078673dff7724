package indwell.web.fhir;

import indwell.domain.refusal.IssueCode;
import indwell.intake.LineSplitter;
import indwell.intake.LineSplitter.Line;
import indwell.web.Exchange;
import indwell.web.HttpAnswer;
import io.vertx.core.Vertx;
import io.vertx.core.buffer.Buffer;
import io.vertx.core.http.HttpServerRequest;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Executor;
import java.util.concurrent.RejectedExecutionException;

/**
 * Reads one body line by line. The connection is read while a worker is idle and paused while it
 * works, so that no worker waits for a sender and little more than one batch of lines is held.
 * Lives on the event loop; {@link #work} alone runs on a worker.
 */
final class LineBody {
  /** Bytes of a body, which is not held. */
  static final long MAX_BYTES = 1L << 30;

  /** What is held of one: a batch of lines, and the one that is not whole yet. */
  static final long COST = 2L << 20;

  /** Bytes of a line. */
  static final int MAX_LINE_BYTES = 1 << 20;

  /** Bytes that a worker is given at once, as soon as so many are there. */
  private static final int BATCH_BYTES = 128 << 10;

  /** A sender that is silent for so long has gone. */
  static final long SILENCE_MILLIS = 30_000;

  /** Nobody sends for longer than this. */
  static final long DEADLINE_MILLIS = 600_000;

  private final Vertx vertx;
  private final Exchange exchange;
  private final LineTaker taker;
  private final Executor workers;
  private final long mostBytes;
  private final Runnable released;
  private final LineSplitter splitter = new LineSplitter(MAX_LINE_BYTES, this::add);
  private List<Line> waiting = new ArrayList<>();
  private long waitingBytes;
  private long bytes;
  private int taken;
  private boolean working;
  private boolean ended;
  private boolean over;
  private long silence;
  private long deadline;

  /**
   * @param mostBytes that the body may have
   * @param released called once, when nothing is held any more
   */
  LineBody(
      Vertx vertx,
      Exchange exchange,
      LineTaker taker,
      Executor workers,
      long mostBytes,
      Runnable released) {
    this.vertx = vertx;
    this.exchange = exchange;
    this.taker = taker;
    this.workers = workers;
    this.mostBytes = mostBytes;
    this.released = released;
  }

  /** Begins to read. */
  void start() {
    HttpServerRequest request = exchange.request();
    request.exceptionHandler(ignored -> abandon());
    request.response().closeHandler(ignored -> abandon());
    request.handler(this::read);
    request.endHandler(ignored -> end());
    silence = vertx.setTimer(SILENCE_MILLIS, ignored -> tooSlow());
    deadline = vertx.setTimer(DEADLINE_MILLIS, ignored -> tooSlow());
    if (exchange.declaredLength() > mostBytes) {
      tooLarge();
    } else {
      exchange.invite();
    }
  }

  private void add(Line line) {
    waiting.add(line);
    waitingBytes += line.bytes().map(content -> content.length).orElse(0);
  }

  private void read(Buffer chunk) {
    if (over) {
      return;
    }
    bytes += chunk.length();
    if (bytes > mostBytes) {
      tooLarge();
      return;
    }
    heard();
    splitter.feed(chunk.getBytes());
    if (waitingBytes >= BATCH_BYTES) {
      submit();
    }
  }

  private void heard() {
    vertx.cancelTimer(silence);
    silence = vertx.setTimer(SILENCE_MILLIS, ignored -> tooSlow());
  }

  private void end() {
    if (!over) {
      ended = true;
      vertx.cancelTimer(silence);
      vertx.cancelTimer(deadline);
      splitter.finish();
      submit();
    }
  }

  /** Gives the lines that wait to a worker, unless one works already. */
  private void submit() {
    if (working || over) {
      return;
    }
    working = true;
    List<Line> batch = waiting;
    waiting = new ArrayList<>();
    waitingBytes = 0;
    boolean last = ended;
    if (!last) {
      vertx.cancelTimer(silence);
      exchange.request().pause();
    }
    try {
      workers.execute(() -> work(batch, last));
    } catch (RejectedExecutionException e) {
      working = false;
      finish(TurnedAway.stoppingAnswer());
    }
  }

  private void work(List<Line> batch, boolean last) {
    Optional<HttpAnswer> answer = Optional.empty();
    try {
      for (Line line : batch) {
        taken++;
        taker.take(taken, line.bytes());
      }
      if (last) {
        answer = Optional.of(taker.answer());
      }
    } catch (FhirRefusal refusal) {
      answer = Optional.of(FhirAnswers.outcome(refusal.status(), refusal.issues()));
    } catch (RuntimeException | StackOverflowError fault) {
      answer = Optional.of(Dispatcher.fault(fault));
    }
    Optional<HttpAnswer> worked = answer;
    exchange.onLoop(() -> worked(worked));
  }

  private void worked(Optional<HttpAnswer> answer) {
    working = false;
    if (over) {
      letGo();
    } else if (answer.isPresent()) {
      finish(answer.get());
    } else if (ended || waitingBytes >= BATCH_BYTES) {
      submit();
    } else {
      silence = vertx.setTimer(SILENCE_MILLIS, ignored -> tooSlow());
      exchange.request().resume();
    }
  }

  private void tooLarge() {
    finish(
        FhirAnswers.outcome(
            413,
            IssueCode.TOO_MUCH_SENT,
            "The body is too large; expected at most " + mostBytes + " bytes."));
  }

  private void tooSlow() {
    finish(
        FhirAnswers.outcome(
            408,
            IssueCode.BUSY,
            "Nothing arrived for "
                + SILENCE_MILLIS / 1000
                + " seconds, or not all in "
                + DEADLINE_MILLIS / 1000
                + "; expected the whole body within that time."));
  }

  private void finish(HttpAnswer answer) {
    if (abandon()) {
      exchange.send(answer);
    }
  }

  /** Gives up; false when it was over already. */
  private boolean abandon() {
    if (over) {
      return false;
    }
    over = true;
    vertx.cancelTimer(silence);
    vertx.cancelTimer(deadline);
    if (!working) {
      letGo();
    }
    return true;
  }

  private void letGo() {
    waiting = List.of();
    taker.release();
    released.run();
  }
}
