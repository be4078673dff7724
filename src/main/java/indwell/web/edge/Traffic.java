package indwell.web.edge;

import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.LongAdder;

/** Counts the requests that are under way, and those that took too long. */
public final class Traffic {
  private final AtomicInteger underWay = new AtomicInteger();
  private final LongAdder slowHeads = new LongAdder();
  private final LongAdder slowBodies = new LongAdder();
  private final LongAdder slowAnswers = new LongAdder();

  /** Requests whose head has come and whose answer has not been sent whole. */
  public int underWay() {
    return underWay.get();
  }

  /** Connections that were closed since no head of a request came in time. */
  public long slowHeads() {
    return slowHeads.sum();
  }

  /** Requests that were given up since their body did not come in time. */
  public long slowBodies() {
    return slowBodies.sum();
  }

  /** Requests that were given up since their answer was not made or not taken in time. */
  public long slowAnswers() {
    return slowAnswers.sum();
  }

  void begin() {
    underWay.incrementAndGet();
  }

  void end() {
    underWay.decrementAndGet();
  }

  void slowHead() {
    slowHeads.increment();
  }

  void slowBody() {
    slowBodies.increment();
  }

  void slowAnswer() {
    slowAnswers.increment();
  }
}
