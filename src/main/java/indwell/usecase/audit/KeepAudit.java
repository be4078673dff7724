package indwell.usecase.audit;

import indwell.port.AuditEntry;
import indwell.port.ClinicalStore;
import indwell.port.StoreUnavailable;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;

/**
 * Keeps the rows of what was read or refused, many in one write: a row waits for as long as the
 * write before it takes. While too many wait nobody is let in, for an access that leaves no trace
 * is not granted; what was let in before that still finds room.
 */
public final class KeepAudit implements AuditTrail, AutoCloseable {
  private static final Logger LOG = System.getLogger(KeepAudit.class.getName());

  /** Rows of one write. */
  static final int MOST_AT_ONCE = 500;

  /** Rows that may wait before nobody is let in. */
  public static final int MOST_WAITING = 10_000;

  private static final long PAUSE_MILLIS = 500;
  private static final long LOOK_MILLIS = 100;
  private static final long CLOSE_MILLIS = 10_000;

  private final ClinicalStore store;
  private final int mostWaiting;
  private final BlockingQueue<AuditEntry> waiting = new LinkedBlockingQueue<>();
  private final Thread writer = new Thread(this::run, "indwell-audit");
  private volatile boolean closing;

  /** Begins at once on a thread of its own. */
  public KeepAudit(ClinicalStore store) {
    this(store, MOST_WAITING);
  }

  /**
   * @param mostWaiting rows that may wait before nobody is let in
   */
  public KeepAudit(ClinicalStore store, int mostWaiting) {
    this.store = store;
    this.mostWaiting = mostWaiting;
    writer.setDaemon(true);
    writer.start();
  }

  @Override
  public boolean hasRoom() {
    return waiting.size() < mostWaiting;
  }

  @Override
  public void add(AuditEntry entry) {
    waiting.add(entry);
  }

  private void run() {
    List<AuditEntry> batch = new ArrayList<>(MOST_AT_ONCE);
    while (!(closing && waiting.isEmpty() && batch.isEmpty())) {
      try {
        if (batch.isEmpty()) {
          fill(batch);
        }
        if (!batch.isEmpty()) {
          write(batch);
          batch.clear();
        }
      } catch (InterruptedException e) {
        return;
      } catch (RuntimeException notWritten) {
        tell(notWritten);
        if (closing || !pause()) {
          return;
        }
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

  private void write(List<AuditEntry> batch) {
    store.write(
        tx -> {
          tx.audit(batch);
          return true;
        });
  }

  /** Without the message, which could quote a row. */
  private static void tell(RuntimeException notWritten) {
    LOG.log(
        Level.WARNING,
        "The audit trail cannot be written now: {0}",
        notWritten instanceof StoreUnavailable
            ? "the store is away"
            : notWritten.getClass().getSimpleName());
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
