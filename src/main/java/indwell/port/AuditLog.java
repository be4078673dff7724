package indwell.port;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * The durable audit trail: rows are added and read, never changed. Implementations are safe for use
 * by many threads; every method may throw {@link StoreUnavailable}.
 */
public interface AuditLog {

  /** Adds rows in their order; all of them are durable when this returns. */
  void append(List<AuditEntry> entries);

  /**
   * A row with its number.
   *
   * @param number ascends in the order in which rows were added
   */
  record Numbered(long number, AuditEntry entry) {}

  /**
   * Which rows are asked for; what is empty does not select.
   *
   * @param from inclusive
   * @param endExclusive of the time
   * @param client of the agent
   * @param belowNumber only rows with lower numbers, for the next page
   * @param limit most rows
   */
  record Question(
      Optional<Instant> from,
      Optional<Instant> endExclusive,
      Optional<String> client,
      Optional<String> patient,
      Optional<String> entity,
      Optional<Long> belowNumber,
      int limit) {}

  /** The rows that are asked for, newest first. */
  List<Numbered> find(Question question);
}
