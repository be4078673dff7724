package indwell.web.events;

import indwell.web.Exchange;
import indwell.web.FaultLog;
import indwell.web.HttpAnswer;
import io.vertx.core.buffer.Buffer;
import io.vertx.core.http.HttpServerResponse;
import java.util.Optional;
import java.util.concurrent.Executor;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.atomic.AtomicBoolean;

/**
 * Moves answers from the spool to the client as fast as it takes them. The head of the response
 * goes out with the first answer: until then the whole request can still be turned away.
 */
final class AnswerPump {
  /** A stream that is cut waits so long for the client to take what was answered. */
  private static final long CUT_MILLIS = 5_000;

  private final Exchange exchange;
  private final AnswerSpool spool;
  private final Executor workers;
  private final AtomicBoolean woken = new AtomicBoolean();
  private volatile Ending ending = Ending.NONE;
  private volatile Optional<HttpAnswer> insteadOfAll = Optional.empty();
  private boolean refilling;
  private boolean over;

  private enum Ending {
    NONE,
    COMPLETE,
    CUT
  }

  AnswerPump(Exchange exchange, AnswerSpool spool, Executor workers) {
    this.exchange = exchange;
    this.spool = spool;
    this.workers = workers;
  }

  /** There is something new in the spool; callable from any thread. */
  void wake() {
    if (woken.compareAndSet(false, true)) {
      exchange.onLoop(this::run);
    }
  }

  /** Everything is in the spool; callable from any thread. */
  void complete() {
    ending = Ending.COMPLETE;
    wake();
  }

  /**
   * Ends the response without its final chunk, after what is in the spool; callable from any
   * thread.
   *
   * @param instead what is answered if nothing has been answered yet
   */
  void cut(HttpAnswer instead) {
    insteadOfAll = Optional.of(instead);
    ending = Ending.CUT;
    wake();
    exchange.onLoop(() -> exchange.vertx().setTimer(CUT_MILLIS, ignored -> closeUnlessOver()));
  }

  /** The client has gone. */
  void stop() {
    over = true;
  }

  private void run() {
    woken.set(false);
    HttpServerResponse response = exchange.request().response();
    while (!over && !refilling) {
      if (response.headWritten() && response.writeQueueFull()) {
        response.drainHandler(ignored -> run());
        return;
      }
      Optional<Buffer> next = spool.take();
      if (next.isPresent()) {
        write(response, next.get());
      } else if (spool.onFile()) {
        refill();
      } else {
        endIfTold(response);
        return;
      }
    }
  }

  private void write(HttpServerResponse response, Buffer answers) {
    begin(response);
    response.write(answers);
  }

  private void begin(HttpServerResponse response) {
    if (!response.headWritten()) {
      response.setStatusCode(200);
      response.putHeader("Content-Type", EventAnswers.NDJSON);
      response.putHeader("Cache-Control", "no-store");
      response.setChunked(true);
    }
  }

  private void refill() {
    refilling = true;
    try {
      workers.execute(
          () -> {
            boolean read = tryRefill();
            exchange.onLoop(() -> refilled(read));
          });
    } catch (RejectedExecutionException stopped) {
      closeUnlessOver();
    }
  }

  private void refilled(boolean read) {
    refilling = false;
    if (read) {
      run();
    } else {
      closeUnlessOver();
    }
  }

  private boolean tryRefill() {
    try {
      spool.refill();
      return true;
    } catch (RuntimeException e) {
      FaultLog.write("answers of a stream", e);
      return false;
    }
  }

  private void endIfTold(HttpServerResponse response) {
    if (ending == Ending.COMPLETE) {
      over = true;
      begin(response);
      response.end();
    } else if (ending == Ending.CUT) {
      if (response.headWritten()) {
        closeUnlessOver();
      } else {
        over = true;
        insteadOfAll.ifPresent(exchange::send);
      }
    }
  }

  private void closeUnlessOver() {
    if (!over) {
      over = true;
      exchange.request().connection().close();
    }
  }
}
