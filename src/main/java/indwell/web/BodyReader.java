package indwell.web;

import io.vertx.core.Vertx;
import io.vertx.core.buffer.Buffer;
import io.vertx.core.http.HttpServerRequest;
import java.util.function.Consumer;

/**
 * Collects the body of one request, within a size, a time and the memory that all requests share.
 * Lives on the event loop.
 */
public final class BodyReader {
  /** A body whose sender does not get it across in this time is given up. */
  public static final long DEADLINE_MILLIS = 60_000;

  /** What one request costs at least, so that a flood of small ones is bounded as well. */
  private static final long LEAST_COST = 16 * 1024;

  /** Why a body was not taken. */
  public enum Refusal {
    TOO_LARGE,
    NO_ROOM,
    TOO_SLOW
  }

  /**
   * A body in memory.
   *
   * @param release to be called once, from any thread, when the request is done with
   */
  public record Body(Buffer bytes, Runnable release) {}

  private final Vertx vertx;
  private final Exchange exchange;
  private final long most;
  private final ByteBudget budget;
  private final Consumer<Body> taken;
  private final Consumer<Refusal> refused;
  private final Buffer bytes = Buffer.buffer();
  private long cost;
  private long timer;
  private boolean over;

  /**
   * @param most bytes that the body may have
   * @param taken gets the whole body
   * @param refused gets the reason why there is none; the request is unread from there on
   */
  public BodyReader(
      Vertx vertx,
      Exchange exchange,
      long most,
      ByteBudget budget,
      Consumer<Body> taken,
      Consumer<Refusal> refused) {
    this.vertx = vertx;
    this.exchange = exchange;
    this.most = most;
    this.budget = budget;
    this.taken = taken;
    this.refused = refused;
  }

  /** Begins to read. */
  public void start() {
    long declared = exchange.declaredLength();
    if (declared > most) {
      refused.accept(Refusal.TOO_LARGE);
    } else if (!reserve(Math.max(declared, LEAST_COST))) {
      refused.accept(Refusal.NO_ROOM);
    } else {
      read();
    }
  }

  private void read() {
    HttpServerRequest request = exchange.request();
    timer = vertx.setTimer(DEADLINE_MILLIS, ignored -> refuse(Refusal.TOO_SLOW));
    request.exceptionHandler(ignored -> abandon());
    request.response().closeHandler(ignored -> abandon());
    request.handler(this::add);
    request.endHandler(ignored -> finish());
    exchange.invite();
  }

  private void add(Buffer chunk) {
    if (over) {
      return;
    }
    long length = (long) bytes.length() + chunk.length();
    if (length > most) {
      refuse(Refusal.TOO_LARGE);
    } else if (length > cost && !reserve(length - cost)) {
      refuse(Refusal.NO_ROOM);
    } else {
      bytes.appendBuffer(chunk);
    }
  }

  private boolean reserve(long more) {
    boolean got = budget.take(more);
    cost += got ? more : 0;
    return got;
  }

  private void finish() {
    if (!over) {
      over = true;
      vertx.cancelTimer(timer);
      long held = cost;
      taken.accept(new Body(bytes, () -> budget.giveBack(held)));
    }
  }

  private void refuse(Refusal why) {
    if (abandon()) {
      refused.accept(why);
    }
  }

  /** Gives up; false when it was over already. */
  private boolean abandon() {
    if (over) {
      return false;
    }
    over = true;
    vertx.cancelTimer(timer);
    budget.giveBack(cost);
    return true;
  }
}
