package indwell.usecase.audit;

import indwell.port.AuditEntry;
import indwell.port.AuditLog;
import indwell.port.StoreUnavailable;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;

/**
 * Keeps the rows of what was read, many in one write: a row waits for as long as the write before
 * it takes. What does not fit is not taken, and whoever asked has to be turned away then, for an
 * access that leaves no trace is not granted.
 */
public final class KeepAudit implements AutoCloseable {
  private static final Logger LOG = System.getLogger(KeepAudit.class.getName());

  /** Rows of one write. */
  static final int MOST_AT_ONCE = 500;

  /** Rows that may wait. */
  public static final int MOST_WAITING = 10_000;

  private static final long PAUSE_MILLIS = 500;
  private static final long LOOK_MILLIS = 100;
  private static final long CLOSE_MILLIS = 10_000;

  private final AuditLog log;
  private final BlockingQueue<AuditEntry> waiting;
  private final Thread writer = new Thread(this::run, "indwell-audit");
  private volatile boolean closing;

  /** Begins at once on a thread of its own. */
  public KeepAudit(AuditLog log) {
    this(log, MOST_WAITING);
  }

  KeepAudit(AuditLog log, int mostWaiting) {
    this.log = log;
    this.waiting = new ArrayBlockingQueue<>(mostWaiting);
    writer.setDaemon(true);
    writer.start();
  }

  /** Takes a row that will be written soon; false, with nothing taken, when too many wait. */
  public boolean add(AuditEntry entry) {
    return !closing && waiting.offer(entry);
  }

  private void run() {
    List<AuditEntry> batch = new ArrayList<>(MOST_AT_ONCE);
    while (!(closing && waiting.isEmpty() && batch.isEmpty())) {
      try {
        if (batch.isEmpty()) {
          fill(batch);
        }
        if (!batch.isEmpty()) {
          log.append(batch);
          batch.clear();
        }
      } catch (StoreUnavailable away) {
        LOG.log(Level.WARNING, "The audit trail cannot be written: the store is away");
        if (closing || !pause()) {
          return;
        }
      } catch (InterruptedException e) {
        return;
      }
    }
  }

  private void fill(List<AuditEntry> batch) throws InterruptedException {
    AuditEntry first = waiting.poll(LOOK_MILLIS, TimeUnit.MILLISECONDS);
    if (first != null) {
      batch.add(first);
      waiting.drainTo(batch, MOST_AT_ONCE - 1);
    }
  }

  private static boolean pause() {
    try {
      TimeUnit.MILLISECONDS.sleep(PAUSE_MILLIS);
      return true;
    } catch (InterruptedException e) {
      return false;
    }
  }

  /** Takes nothing more, and writes what waits. */
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
