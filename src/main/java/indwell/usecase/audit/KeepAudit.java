package indwell.usecase.audit;

import indwell.port.AuditEntry;
import indwell.port.ClinicalStore;
import indwell.port.StoreUnavailable;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionStage;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.LongAdder;

/**
 * Keeps the rows of what was read or refused, those that wait in one commit: a row waits for as
 * long as the commit before it takes, and nobody waits for company. Whoever waits holds nothing, no
 * connection and no thread; one thread writes.
 *
 * <p>Once a commit has failed all who wait are told so, and those who come until one succeeds are
 * told at once. Their rows stay, are tried again, and are written when that is possible. While too
 * many wait nobody is let in, for an access that leaves no trace is not granted; what was let in
 * before that still finds room.
 */
public final class KeepAudit implements AuditTrail, AutoCloseable {
  private static final Logger LOG = System.getLogger(KeepAudit.class.getName());

  /** Rows of one commit, unless one request has more. */
  static final int MOST_AT_ONCE = 500;

  /** Rows that may wait before nobody is let in. */
  public static final int MOST_WAITING = 10_000;

  /** How long somebody waits for a commit that neither succeeds nor fails. */
  private static final Duration PATIENCE = Duration.ofSeconds(5);

  private static final long PAUSE_MILLIS = 500;
  private static final long LOOK_MILLIS = 100;
  private static final long CLOSE_MILLIS = 10_000;

  private final ClinicalStore store;
  private final int mostWaiting;
  private final Duration patience;
  private final BlockingQueue<Waiting> waiting = new LinkedBlockingQueue<>();
  private final AtomicInteger rowsWaiting = new AtomicInteger();
  private final LongAdder failed = new LongAdder();
  private final LongAdder withheld = new LongAdder();
  private final Thread writer = new Thread(this::run, "indwell-audit");
  private volatile boolean failing;
  private volatile boolean closing;

  /** Begins at once on a thread of its own. */
  public KeepAudit(ClinicalStore store) {
    this(store, MOST_WAITING, PATIENCE);
  }

  /**
   * @param mostWaiting rows that may wait before nobody is let in
   * @param patience how long somebody waits for a commit that neither succeeds nor fails
   */
  public KeepAudit(ClinicalStore store, int mostWaiting, Duration patience) {
    this.store = store;
    this.mostWaiting = mostWaiting;
    this.patience = patience;
    writer.setDaemon(true);
    writer.start();
  }

  /** The rows of one answer. */
  private record Waiting(
      List<AuditEntry> rows, List<AuditEntry> otherwise, CompletableFuture<Boolean> kept) {
    /** What is to be written by now. */
    List<AuditEntry> due() {
      return kept.isDone() ? otherwise : rows;
    }

    boolean withholds() {
      return !rows.equals(otherwise);
    }
  }

  @Override
  public boolean hasRoom() {
    return rowsWaiting.get() < mostWaiting;
  }

  @Override
  public CompletionStage<Boolean> keep(List<AuditEntry> rows, List<AuditEntry> otherwise) {
    CompletableFuture<Boolean> kept =
        new CompletableFuture<Boolean>()
            .completeOnTimeout(false, patience.toMillis(), TimeUnit.MILLISECONDS);
    Waiting one = new Waiting(List.copyOf(rows), List.copyOf(otherwise), kept);
    if (failing) {
      kept.complete(false);
    }
    rowsWaiting.addAndGet(rows.size());
    waiting.add(one);
    return one.withholds() ? kept.whenComplete(this::countWithheld) : kept;
  }

  private void countWithheld(Boolean kept, Throwable never) {
    if (!kept) {
      withheld.increment();
    }
  }

  /** Rows that were not written yet. */
  public int rowsWaiting() {
    return rowsWaiting.get();
  }

  /** Rows that could not be written when that was tried, each time counted. */
  public long failed() {
    return failed.sum();
  }

  /** Answers that were not given because their rows could not be written. */
  public long withheld() {
    return withheld.sum();
  }

  private void run() {
    List<Waiting> batch = new ArrayList<>();
    while (!(closing && waiting.isEmpty() && batch.isEmpty())) {
      try {
        if (batch.isEmpty()) {
          fill(batch);
        }
        write(batch);
      } catch (InterruptedException e) {
        break;
      } catch (RuntimeException notWritten) {
        giveUp(batch, notWritten);
        if (closing || !pause()) {
          break;
        }
      }
    }
    failing = true;
  }

  private void fill(List<Waiting> batch) throws InterruptedException {
    Waiting next = waiting.poll(LOOK_MILLIS, TimeUnit.MILLISECONDS);
    int rows = 0;
    while (next != null) {
      batch.add(next);
      rows += next.rows().size();
      next = rows < MOST_AT_ONCE ? waiting.poll() : null;
    }
  }

  /** Of many of which one is refused, each is tried alone, so that one cannot hold up the rest. */
  private void write(List<Waiting> batch) {
    try {
      commit(batch);
      batch.clear();
    } catch (StoreUnavailable away) {
      throw away;
    } catch (RuntimeException refused) {
      failed.add(rowsOf(batch));
      while (!batch.isEmpty()) {
        writeAlone(batch.get(0));
        batch.remove(0);
      }
    }
  }

  private void writeAlone(Waiting one) {
    try {
      commit(List.of(one));
    } catch (StoreUnavailable away) {
      throw away;
    } catch (RuntimeException refused) {
      LOG.log(
          Level.ERROR,
          "Rows of the audit trail are refused by the store, which is a defect, and are lost: {0}",
          refused.getClass().getSimpleName());
      failed.add(one.rows().size());
      over(one, false);
    }
  }

  private void commit(List<Waiting> batch) {
    List<AuditEntry> rows = batch.stream().flatMap(one -> one.due().stream()).toList();
    if (!rows.isEmpty()) {
      store.write(
          tx -> {
            tx.audit(rows);
            return true;
          });
      failing = false;
    }
    batch.forEach(one -> over(one, true));
  }

  private void over(Waiting one, boolean kept) {
    rowsWaiting.addAndGet(-one.rows().size());
    one.kept().complete(kept);
  }

  /** Those who wait are told; their rows stay. The message could quote a row. */
  private void giveUp(List<Waiting> batch, RuntimeException notWritten) {
    failing = true;
    failed.add(rowsOf(batch));
    batch.forEach(one -> one.kept().complete(false));
    waiting.forEach(one -> one.kept().complete(false));
    LOG.log(
        Level.WARNING,
        "The audit trail cannot be written now: {0}",
        notWritten instanceof StoreUnavailable
            ? "the store is away"
            : notWritten.getClass().getSimpleName());
  }

  private static int rowsOf(List<Waiting> batch) {
    return batch.stream().mapToInt(one -> one.rows().size()).sum();
  }

  private static boolean pause() {
    try {
      TimeUnit.MILLISECONDS.sleep(PAUSE_MILLIS);
      return true;
    } catch (InterruptedException e) {
      return false;
    }
  }

  /** Writes what waits; what comes after this is not written. */
  @Override
  public void close() {
    closing = true;
    try {
      writer.join(CLOSE_MILLIS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
