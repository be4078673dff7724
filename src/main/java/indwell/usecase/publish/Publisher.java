package indwell.usecase.publish;

import indwell.port.ClinicalStore;
import indwell.port.LaneHold;
import indwell.port.Outbox;
import indwell.port.StoreUnavailable;
import indwell.port.Upstream;
import indwell.port.trace.Errand;
import indwell.port.trace.Span;
import indwell.port.trace.Tracing;
import indwell.usecase.Defects;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;

/**
 * Tells another server of every change of the record. Of all processes that share a store one
 * sends, by a lease; it sends several lanes at once, each in its order. What waits is durable, so a
 * stop at any moment loses nothing: what was sent and not noted is sent again, which changes
 * nothing there.
 */
public final class Publisher implements AutoCloseable {
  private static final Logger LOG = System.getLogger(Publisher.class.getName());

  private static final int CHANGES_AT_ONCE = 1_000;
  private static final int WAITING_LOOKED_AT = 2_000;
  private static final Duration STOP = Duration.ofSeconds(10);

  private final Outbox outbox;
  private final Lease lease;
  private final Pace pace;
  private final Clock clock;
  private final String target;
  private final Connection connection;
  private final Courier courier;
  private final LaneRun lanes;
  private final Tracing tracing;
  private final ExecutorService workers;
  private final Thread loop = new Thread(this::loop, "indwell-publisher");

  /** Lanes that are being sent. */
  private final Set<String> running = ConcurrentHashMap.newKeySet();

  private final Semaphore news = new Semaphore(0);
  private final AtomicLong sent = new AtomicLong();
  private volatile boolean stopping;

  /**
   * Nothing runs before {@link #start}.
   *
   * @param target where {@code upstream} is, and how resources are addressed there
   * @param owner a name that no other process has
   * @param tracing is told of each lane that is sent
   */
  public Publisher(
      ClinicalStore store,
      Outbox outbox,
      Upstream upstream,
      Addressing addressing,
      Pace pace,
      Clock clock,
      String target,
      String owner,
      Tracing tracing) {
    this.outbox = outbox;
    this.pace = pace;
    this.clock = clock;
    this.target = target;
    this.tracing = tracing;
    this.lease = new Lease(outbox, owner, pace, clock);
    this.connection = new Connection(outbox, pace.backoff());
    this.courier = new Courier(upstream, addressing);
    this.lanes =
        new LaneRun(
            store,
            outbox,
            courier,
            connection,
            new Claims(),
            pace.backoff(),
            clock,
            () -> !stopping && lease.lastsForARequest());
    AtomicInteger number = new AtomicInteger();
    this.workers =
        Executors.newFixedThreadPool(
            pace.parallel(),
            task -> {
              Thread thread = new Thread(task, "indwell-publisher-" + number.incrementAndGet());
              thread.setDaemon(true);
              return thread;
            });
    loop.setDaemon(true);
  }

  /** Begins, and lets go what a person had to mend: whoever starts anew has mended it. */
  public void start() {
    loop.start();
  }

  /** Whether this process is the one that sends. */
  public boolean leads() {
    return lease.held();
  }

  /** Resources that the other server took from this process. */
  public long sent() {
    return sent.get();
  }

  /** How often something else was found there and put over. */
  public long settled() {
    return courier.settled();
  }

  /** Finishes the requests that are under way, begins no other, and lets others take over. */
  @Override
  public void close() {
    stopping = true;
    news.release();
    workers.shutdown();
    try {
      loop.join(STOP.toMillis());
      if (!workers.awaitTermination(STOP.toMillis(), TimeUnit.MILLISECONDS)) {
        LOG.log(Level.WARNING, "A request to the other server did not end in time.");
      }
      lease.resign();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    } catch (StoreUnavailable away) {
      LOG.log(Level.DEBUG, "The lease ends by itself.");
    }
  }

  private void loop() {
    boolean begun = false;
    while (!stopping) {
      try {
        begun = begun || begin();
        round();
        int ended = news.drainPermits();
        if (ended == 0) {
          boolean unused = news.tryAcquire(pace.idle().toMillis(), TimeUnit.MILLISECONDS);
        }
      } catch (InterruptedException stopped) {
        return;
      } catch (StoreUnavailable away) {
        LOG.log(Level.WARNING, "Publishing waits: the store is away.");
        pause();
      } catch (RuntimeException defect) {
        Defects.log(LOG, "Publishing failed and goes on", defect);
        pause();
      }
    }
  }

  private boolean begin() {
    if (outbox.aim(target)) {
      LOG.log(Level.INFO, "Publishing begins with the whole record.");
    }
    if (outbox.held(LaneHold.CONNECTION).filter(LaneHold::parked).isPresent()) {
      outbox.release(LaneHold.CONNECTION);
    }
    return true;
  }

  /** Longer than between rounds, since something is wrong. */
  private void pause() {
    try {
      Thread.sleep(pace.idle().multipliedBy(2).toMillis());
    } catch (InterruptedException stopped) {
      Thread.currentThread().interrupt();
    }
  }

  private void round() {
    if (!lease.hold()) {
      return;
    }
    while (outbox.take(CHANGES_AT_ONCE) == CHANGES_AT_ONCE && lease.hold()) {
      LOG.log(Level.DEBUG, "More changes are there.");
    }
    Instant now = clock.instant();
    connection.refresh();
    if (connection.open(now)) {
      List<String> ready = outbox.ready(now, WAITING_LOOKED_AT);
      // Others refer to wards; they wait until these are there.
      boolean wards = ready.contains("") || running.contains("");
      (wards ? List.of("") : ready).forEach(this::submit);
    }
  }

  private void submit(String lane) {
    if (!stopping && running.size() < 2 * pace.parallel() && running.add(lane)) {
      try {
        workers.execute(() -> run(lane));
      } catch (RejectedExecutionException closed) {
        running.remove(lane);
      }
    }
  }

  private void run(String lane) {
    Span span = tracing.task("publish.lane");
    try {
      sent.addAndGet(Errand.task(span).within(span, () -> lanes.run(lane)));
    } catch (StoreUnavailable away) {
      LOG.log(Level.WARNING, "Publishing of a lane waits: the store is away.");
    } catch (RuntimeException defect) {
      Defects.log(LOG, "Publishing of a lane failed", defect);
      lanes.setAside(lane);
    } finally {
      running.remove(lane);
      news.release();
    }
  }
}
