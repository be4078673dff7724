package indwell.adapter.store.postgres;

import indwell.adapter.store.jdbc.Sql;
import indwell.port.StoreUnavailable;
import java.time.Duration;
import java.util.List;
import java.util.Set;
import java.util.concurrent.locks.LockSupport;

/**
 * Waits for those who write, and stops none of them. The number of a change is drawn long before it
 * is committed, so a reader that only remembers the highest number it saw would miss a lower one
 * that is committed later. Every writer holds {@link LockKey#OF_WRITERS} until its changes are
 * visible. So: note the last number drawn, then who holds the lock; when all of these have let it
 * go, no number up to the one noted can appear any more. Whoever began later draws higher ones.
 *
 * <p>Source: PostgreSQL 17, sections 9.17 (sequences), 13.3.5 (advisory locks), 52.12 (pg_locks:
 * the two halves of a lock's number); that locks are let go after a commit is visible is said in
 * the comments of its source, {@code CommitTransaction} in xact.c (from memory).
 */
record WriterFence(Sql sql) {
  private static final String LAST_DRAWN =
      "SELECT coalesce(pg_sequence_last_value(pg_get_serial_sequence('resource', 'change')::regclass),"
          + " 0)";

  private static final String WRITERS =
      "SELECT virtualtransaction FROM pg_locks WHERE locktype = 'advisory' AND granted"
          + " AND database = (SELECT oid FROM pg_database WHERE datname = current_database())"
          + " AND classid::bigint = ? AND objid::bigint = ? AND objsubid = 1";

  private static final Duration PAUSE = Duration.ofMillis(3);

  /** A transaction that takes longer than this is stuck; the next try waits for it again. */
  private static final int MOST_PAUSES = 3_000;

  long settledChange() {
    long drawn = sql.query(LAST_DRAWN, statement -> {}, row -> row.getLong(1)).get(0);
    Set<String> before = Set.copyOf(writers());
    for (int pauses = 0; writers().stream().anyMatch(before::contains); pauses++) {
      if (pauses == MOST_PAUSES) {
        throw new StoreUnavailable(
            "A transaction does not end.", new IllegalStateException("A writer holds its lock."));
      }
      LockSupport.parkNanos(PAUSE.toNanos());
    }
    return drawn;
  }

  private List<String> writers() {
    return sql.query(
        WRITERS,
        statement -> {
          statement.setLong(1, LockKey.OF_WRITERS >>> 32);
          statement.setLong(2, LockKey.OF_WRITERS & 0xffff_ffffL);
        },
        row -> row.getString(1));
  }
}
