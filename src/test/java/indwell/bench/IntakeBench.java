package indwell.bench;

import indwell.adapter.store.postgres.PostgresStore;
import indwell.adapter.validation.VouchedShapes;
import indwell.contract.TestPostgres;
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

  /** Lines that a stream hands over at once: ten episodes. */
  private static final int LINES = 10 * House.EVENTS;

  /** Numbers of the first episodes, far enough apart. */
  private static final int BULK = Warming.MOST_EPISODES;

  private static final int SINGLE_WARMING = 2 * Warming.MOST_EPISODES;
  private static final int SINGLE = 3 * Warming.MOST_EPISODES;
  private static final int AT_HALF = 4 * Warming.MOST_EPISODES;

  private final PlainPostgres plain = new PlainPostgres(TestPostgres.newDatabase());
  private final ProfileValidator pooled;
  private final ClinicalStore store;
  private final ProfileValidator vouched;
  private final SharedCommits intake;

  IntakeBench(ProfileValidator pooled) {
    this.pooled = pooled;
    this.store = PostgresStore.open(plain.url(), TestPostgres.USER, TestPostgres.PASSWORD);
    this.vouched = new VouchedShapes(pooled);
    this.intake =
        new SharedCommits(new RecordEvents(store, vouched, new MappingContext(ZoneOffset.UTC)));
  }

  /** The comparisons, over so many episodes of a catheter. */
  List<Row> rows(int episodes) {
    Warming.by(0, this::bulk);
    List<Row> rows = new ArrayList<>(bulkRows(House.events(BULK, episodes)));
    Warming.by(SINGLE_WARMING, events -> Parallel.each(CLIENTS, events, this::record));
    rows.addAll(singleRows(House.events(SINGLE, episodes), House.events(AT_HALF, episodes / 2)));
    return rows;
  }

  private List<Row> bulkRows(List<byte[]> events) {
    long before = plain.count("resource");
    CpuTime begin = CpuTime.now();
    double seconds = Stopwatch.seconds(() -> bulk(events));
    System.out.println("An event of bulk intake: " + CpuTime.now().since(begin).of(events.size()));
    List<byte[]> resources = plain.resourcesAfter(before);
    double validator =
        Stopwatch.perSecond(
            resources.size(), () -> Parallel.each(WORKERS, resources, pooled::validate));
    double copy = events.size() / Stopwatch.seconds(() -> plain.copyIn(resources));
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
            0));
  }

  private List<Row> singleRows(List<byte[]> events, List<byte[]> atHalf) {
    double commits = commits(4_000);
    long before = plain.count("resource");
    CpuTime begin = CpuTime.now();
    double single =
        Stopwatch.perSecond(events.size(), () -> Parallel.each(CLIENTS, events, this::record));
    System.out.println("A single event: " + CpuTime.now().since(begin).of(events.size()));
    System.out.printf(
        "Single events at half of that load: 99 in 100 within %d ms%n", p99(atHalf, single / 2));
    List<String> resources =
        plain.resourcesAfter(before).stream()
            .map(json -> new String(json, StandardCharsets.UTF_8))
            .toList();
    double validator =
        Stopwatch.seconds(() -> Parallel.each(WORKERS, resources, vouched::validate))
            * events.size()
            / resources.size();
    return List.of(
        new Row(
            "single events from 32 clients",
            single,
            "one-row commits of 32 clients",
            commits,
            "commits/s",
            0.5),
        new Row(
            "single events from 32 clients",
            single,
            "validation by shape of their resources, 2 threads",
            events.size() / validator,
            "events/s",
            0));
  }

  /** As lines of a stream: an episode stays with one worker, which is given many lines at once. */
  private void bulk(List<byte[]> events) {
    List<List<byte[]>> parts = new ArrayList<>();
    for (int at = 0; at < events.size(); at += LINES) {
      parts.add(events.subList(at, Math.min(at + LINES, events.size())));
    }
    Parallel.each(WORKERS, parts, this::record);
  }

  private void record(byte[] event) {
    record(List.of(event));
  }

  private void record(List<byte[]> events) {
    Instant now = Instant.now();
    List<Received> received =
        events.stream().map(event -> new Received(EventBodies.line(event, now), now)).toList();
    for (EventResult result : intake.record(received)) {
      if (result.outcome() != Outcome.RECORDED) {
        throw new IllegalStateException("An event is not recorded but " + result);
      }
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
