package indwell.web.edge;

import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLongArray;
import java.util.concurrent.atomic.LongAdder;

/** Counts the requests that are under way, and those that took too long. */
public final class Traffic {
  private static final int HUNDREDS = 6;

  private final AtomicInteger underWay = new AtomicInteger();
  private final Map<Part, AtomicLongArray> answered = new ConcurrentHashMap<>();
  private final LongAdder slowHeads = new LongAdder();
  private final LongAdder slowBodies = new LongAdder();
  private final LongAdder slowAnswers = new LongAdder();

  /** Which part of the service a request was for; of an address nothing else is kept. */
  public enum Part {
    FHIR("/fhir"),
    EVENTS("/events"),
    SURVEILLANCE("/surveillance"),
    PUBLISHING("/publishing"),
    METRICS("/metrics"),
    HEALTH("/q/health"),
    /** Pages for people, and whatever is not there. */
    PAGES("");

    private final String root;

    Part(String root) {
      this.root = root;
    }

    static Part of(String path) {
      for (Part part : values()) {
        if (path.equals(part.root) || path.startsWith(part.root + "/")) {
          return part;
        }
      }
      return PAGES;
    }
  }

  /** How many requests for a part were answered with a status of that hundred, 2 to 5. */
  public long answered(Part part, int hundred) {
    return counts(part).get(hundred);
  }

  void answered(String path, int status) {
    counts(Part.of(path)).incrementAndGet(Math.min(status / 100, HUNDREDS - 1));
  }

  private AtomicLongArray counts(Part part) {
    return answered.computeIfAbsent(part, first -> new AtomicLongArray(HUNDREDS));
  }

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
