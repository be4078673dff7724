package indwell.usecase.audit;

import indwell.port.AuditEntry;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionStage;

/** Where rows go that are not written together with what they are about. */
public interface AuditTrail {
  /** Keeps nothing, and says that it did. */
  AuditTrail NONE =
      new AuditTrail() {
        @Override
        public boolean hasRoom() {
          return true;
        }

        @Override
        public CompletionStage<Boolean> keep(List<AuditEntry> rows, List<AuditEntry> otherwise) {
          return CompletableFuture.completedStage(true);
        }
      };

  /** Whether so few rows wait that another access may be granted. */
  boolean hasRoom();

  /**
   * Takes rows; never waits. What comes of it is told soon, in any case: whether they are durable,
   * or cannot be made so for now. In the second case what is written later, once that is possible,
   * is what they would be otherwise; if the commit itself was lost sight of, the first may be there
   * too.
   *
   * @param otherwise the rows when these cannot be written now; the same for what is done anyway
   */
  CompletionStage<Boolean> keep(List<AuditEntry> rows, List<AuditEntry> otherwise);
}
