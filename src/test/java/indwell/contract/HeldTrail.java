package indwell.contract;

import indwell.port.AuditEntry;
import indwell.usecase.audit.AuditTrail;
import java.util.List;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionStage;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;

/** A trail whose rows are kept, or not, when a test says so. */
public final class HeldTrail implements AuditTrail {
  private final BlockingQueue<Handed> handed = new LinkedBlockingQueue<>();
  private volatile boolean holding;

  /** What was handed over for one answer. */
  public record Handed(
      List<AuditEntry> rows, List<AuditEntry> otherwise, CompletableFuture<Boolean> kept) {}

  /** From here on nothing is kept before it is said so. */
  public void hold() {
    holding = true;
    handed.clear();
  }

  /** What was handed over next; waits for it. */
  public Handed next() throws InterruptedException {
    Handed next = handed.poll(60, TimeUnit.SECONDS);
    if (next == null) {
      throw new AssertionError("No rows were handed over.");
    }
    return next;
  }

  /** Whether nothing was handed over that was not looked at. */
  public boolean isEmpty() {
    return handed.isEmpty();
  }

  @Override
  public boolean hasRoom() {
    return true;
  }

  @Override
  public CompletionStage<Boolean> keep(List<AuditEntry> rows, List<AuditEntry> otherwise) {
    Handed one = new Handed(rows, otherwise, new CompletableFuture<>());
    handed.add(one);
    if (!holding) {
      one.kept().complete(true);
    }
    return one.kept();
  }
}
