package indwell.faults;

import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.intake.EventResult;
import indwell.intake.Outcome;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.usecase.Received;
import indwell.usecase.RecordEvents;
import indwell.usecase.SharedCommits;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Consumer;
import java.util.function.Supplier;

/**
 * Callers: four threads that send stories as fast as they are answered, two at a time the same
 * ones. What is answered as failed is sent again until it is kept.
 */
final class Sender {
  private static final int THREADS = 4;
  private static final long PAUSE_MILLISECONDS = 20;
  private static final int TIMES_TO_STAND_STILL = 5;

  private final SharedCommits events;
  private final long seed;
  private final Supplier<Instant> clock;
  private final Consumer<Point> reached;
  private final Consumer<Aftermath.Kept> kept;
  private final List<Thread> threads = new ArrayList<>();
  private final AtomicInteger failedInARow = new AtomicInteger();
  private volatile boolean enough;

  /**
   * Sends nothing yet.
   *
   * @param kept is told of each event that was answered as kept
   */
  Sender(
      ClinicalStore store,
      long seed,
      Supplier<Instant> clock,
      Consumer<Point> reached,
      Consumer<Aftermath.Kept> kept) {
    RecordEvents each =
        new RecordEvents(store, new Passing(reached), new MappingContext(ZoneOffset.UTC));
    this.events = new SharedCommits(each);
    this.seed = seed;
    this.clock = clock;
    this.reached = reached;
    this.kept = kept;
  }

  Sender start() {
    for (int t = 0; t < THREADS; t++) {
      int first = t / 2;
      Thread thread = new Thread(() -> send(first), "sender-" + t);
      thread.setDaemon(true);
      threads.add(thread);
      thread.start();
    }
    return this;
  }

  /** Waits until each thread has its answer; the store has to be there. */
  void stop() throws InterruptedException {
    enough = true;
    join();
  }

  void join() throws InterruptedException {
    for (Thread thread : threads) {
      thread.join();
    }
  }

  /** Whether every thread has been told several times that nothing is kept, and none otherwise. */
  boolean standsStill() {
    return failedInARow.get() >= TIMES_TO_STAND_STILL * THREADS;
  }

  private void send(int first) {
    for (int number = first; !enough; number += 2) {
      for (String body : Story.of(seed, number)) {
        kept.accept(untilKept(body));
      }
    }
  }

  private Aftermath.Kept untilKept(String body) {
    while (true) {
      EventResult result = once(body);
      if (result.outcome() != Outcome.FAILED) {
        failedInARow.set(0);
        return new Aftermath.Kept(Aftermath.key(body), result.version().orElseThrow());
      }
      failedInARow.incrementAndGet();
      try {
        Thread.sleep(PAUSE_MILLISECONDS);
      } catch (InterruptedException e) {
        throw new IllegalStateException(e);
      }
    }
  }

  private EventResult once(String body) {
    Instant now = clock.get();
    var reading = EventBodies.line(body.getBytes(StandardCharsets.UTF_8), now);
    reached.accept(Point.READ);
    return events.record(List.of(new Received(reading, now))).get(0);
  }

  /** Validation is proved elsewhere; here it is a point at which to end. */
  record Passing(Consumer<Point> reached) implements ProfileValidator {
    @Override
    public List<Finding> validate(byte[] json, List<String> profiles) {
      reached.accept(Point.VALIDATING);
      return List.of();
    }

    @Override
    public boolean knows(String profile) {
      return true;
    }
  }
}
