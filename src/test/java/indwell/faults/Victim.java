package indwell.faults;

import indwell.adapter.store.postgres.PostgresStore;
import indwell.adapter.store.sqlite.SqliteStore;
import indwell.contract.TestPostgres;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.intake.EventResult;
import indwell.intake.Outcome;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.usecase.RecordEvents;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Consumer;

/**
 * A process that takes events on four threads and says of each, after its answer, that it is kept.
 * Two threads at a time send the same events. It is there to be killed, or ends itself at a named
 * point as if it were.
 */
final class Victim {
  private static final int THREADS = 4;

  private Victim() {}

  /**
   * @param args {@code sqlite FOLDER} or {@code postgresql URL}, a seed, and if it shall end itself
   *     a {@link Point} and how often that is to be reached
   */
  public static void main(String[] args) throws InterruptedException {
    Consumer<Point> reached = args.length > 3 ? ending(Point.valueOf(args[3]), args[4]) : any -> {};
    ClinicalStore store = new FallingStore(open(args[0], args[1]), reached);
    RecordEvents events =
        new RecordEvents(store, new Passing(reached), new MappingContext(ZoneOffset.UTC));
    List<Thread> threads = new ArrayList<>();
    for (int t = 0; t < THREADS; t++) {
      int first = t / 2;
      threads.add(new Thread(() -> send(events, Long.parseLong(args[2]), first, reached)));
    }
    threads.forEach(Thread::start);
    for (Thread thread : threads) {
      thread.join();
    }
  }

  static ClinicalStore open(String kind, String where) {
    return kind.equals("sqlite")
        ? SqliteStore.open(Path.of(where))
        : PostgresStore.open(where, TestPostgres.USER, TestPostgres.PASSWORD);
  }

  /** As {@code kill -9}: no hook runs and no lock is let go in order. */
  private static Consumer<Point> ending(Point at, String times) {
    AtomicInteger left = new AtomicInteger(Integer.parseInt(times));
    return point -> {
      if (point == at && left.decrementAndGet() == 0) {
        Runtime.getRuntime().halt(137);
      }
    };
  }

  private static void send(RecordEvents events, long seed, int first, Consumer<Point> reached) {
    for (int number = first; ; number += 2) {
      for (String body : Story.of(seed, number)) {
        var reading = EventBodies.line(body.getBytes(StandardCharsets.UTF_8), Story.NOW);
        reached.accept(Point.READ);
        EventResult result = events.record(reading, Story.NOW);
        if (result.outcome() == Outcome.FAILED) {
          System.out.println("failed " + result.issues());
          return;
        }
        System.out.println(
            "kept %s %s %d"
                .formatted(
                    result.source().orElseThrow(),
                    result.eventId().orElseThrow(),
                    result.version().orElseThrow()));
      }
    }
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
