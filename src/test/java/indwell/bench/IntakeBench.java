package indwell.bench;

import indwell.adapter.store.postgres.PostgresStore;
import indwell.adapter.validation.VouchedShapes;
import indwell.contract.TestPostgres;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.intake.Outcome;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.usecase.RecordEvents;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.locks.LockSupport;
import java.util.stream.IntStream;

/** Events to resources on PostgreSQL, against the validator alone, COPY, and bare commits. */
final class IntakeBench implements AutoCloseable {
  private static final int CLIENTS = 32;
  private static final int WORKERS = 2;

  private final PlainPostgres plain = new PlainPostgres(TestPostgres.newDatabase());
  private final ProfileValidator pooled;
  private final ClinicalStore store;
  private final RecordEvents intake;

  IntakeBench(ProfileValidator pooled) {
    this.pooled = pooled;
    this.store = PostgresStore.open(plain.url(), TestPostgres.USER, TestPostgres.PASSWORD);
    this.intake =
        new RecordEvents(store, new VouchedShapes(pooled), new MappingContext(ZoneOffset.UTC));
  }

  /** The comparisons, over so many episodes of a catheter. */
  List<Row> rows(int episodes) {
    bulk(House.events(0, 60));
    long before = plain.count("resource");
    List<byte[]> events = House.events(1_000, episodes);
    double seconds = Stopwatch.seconds(() -> bulk(events));
    List<byte[]> resources = plain.resourcesAfter(before);
    double validator =
        Stopwatch.perSecond(
            resources.size(), () -> Parallel.each(WORKERS, resources, pooled::validate));
    double copy = events.size() / Stopwatch.seconds(() -> plain.copyIn(resources));
    double commits = commits(4_000);
    List<byte[]> singles = House.events(10_000, 400);
    double single =
        Stopwatch.perSecond(singles.size(), () -> Parallel.each(CLIENTS, singles, this::record));
    System.out.printf(
        "Single events at half of that load: 99 in 100 within %d ms%n",
        p99(House.events(12_000, 300), single / 2));
    return List.of(
        new Row(
            "bulk intake to PostgreSQL, 2 workers",
            resources.size() / seconds,
            "pooled validator alone, 2 threads",
            validator,
            "resources/s",
            0.6),
        new Row(
            "bulk intake to PostgreSQL",
            events.size() / seconds,
            "COPY of the same resources",
            copy,
            "events/s",
            0),
        new Row(
            "single events from 32 clients",
            single,
            "one-row commits of 32 clients",
            commits,
            "commits/s",
            0.5));
  }

  /** As lines of a stream: an episode stays with one worker. */
  private void bulk(List<byte[]> events) {
    List<List<byte[]>> episodes = new ArrayList<>();
    for (int at = 0; at < events.size(); at += House.EVENTS) {
      episodes.add(events.subList(at, at + House.EVENTS));
    }
    Parallel.each(WORKERS, episodes, episode -> episode.forEach(this::record));
  }

  private void record(byte[] event) {
    Instant now = Instant.now();
    Outcome outcome = intake.record(EventBodies.line(event, now), now).outcome();
    if (outcome != Outcome.RECORDED) {
      throw new IllegalStateException(
          "Outcome " + outcome + " of " + new String(event, StandardCharsets.UTF_8));
    }
  }

  private double commits(int rows) {
    plain.prepareCommits();
    List<Integer> numbers = IntStream.range(0, rows).boxed().toList();
    return Stopwatch.perSecond(rows, () -> Parallel.each(CLIENTS, numbers, plain::commitOne));
  }

  /** Events that begin at set moments, whatever became of those before; milliseconds. */
  private long p99(List<byte[]> events, double perSecond) {
    long start = System.nanoTime();
    long[] tookNanos = new long[events.size()];
    AtomicInteger next = new AtomicInteger();
    List<Integer> turns = IntStream.range(0, events.size()).boxed().toList();
    Parallel.each(
        CLIENTS,
        turns,
        ignored -> {
          int turn = next.getAndIncrement();
          long due = start + (long) (turn * 1e9 / perSecond);
          sleepUntil(due);
          record(events.get(turn));
          tookNanos[turn] = System.nanoTime() - due;
        });
    Arrays.sort(tookNanos);
    return TimeUnit.NANOSECONDS.toMillis(tookNanos[(int) (tookNanos.length * 0.99)]);
  }

  private static void sleepUntil(long due) {
    long wait = due - System.nanoTime();
    if (wait > 0) {
      LockSupport.parkNanos(wait);
    }
  }

  @Override
  public void close() {
    store.close();
  }
}
