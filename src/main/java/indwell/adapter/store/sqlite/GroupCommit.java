package indwell.adapter.store.sqlite;

import indwell.adapter.store.jdbc.Sql;
import indwell.adapter.store.jdbc.WaitingRoom;
import indwell.port.StoreUnavailable;
import io.agroal.api.AgroalDataSource;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.Lock;
import java.util.concurrent.locks.ReentrantLock;

/**
 * Lets the sessions that wait for the one writing connection share a transaction of the file, and
 * so one flush to the disk, which takes far longer than what they write. Each is a savepoint of its
 * own; none is answered before the flush.
 *
 * <p>The first of a group commits for all. It queues for its turn again after its own writes, and
 * turns are taken in order, so whoever already waits writes before that commit and nobody waits for
 * company.
 */
final class GroupCommit {
  private static final String SAVEPOINT = "SAVEPOINT member";
  private static final String RELEASE = "RELEASE member";

  private final AgroalDataSource writer;
  private final SqliteDialect dialect;
  private final WaitingRoom room;
  private final Duration patience;
  private final Lock turn = new ReentrantLock(true);

  /** Touched only by whoever has the turn. */
  private Optional<Group> open = Optional.empty();

  GroupCommit(AgroalDataSource writer, SqliteDialect dialect, WaitingRoom room, Duration patience) {
    this.writer = writer;
    this.dialect = dialect;
    this.room = room;
    this.patience = patience;
  }

  private record Group(Connection connection, CompletableFuture<Boolean> durable) {
    void run(String sql) throws SQLException {
      try (Statement statement = connection.createStatement()) {
        statement.execute(sql);
      }
    }
  }

  /** Waits for the turn to write, and keeps it until the member commits or rolls back. */
  Member join() {
    takeTurn();
    try {
      boolean first = open.isEmpty();
      Group group = first ? begin() : open.orElseThrow();
      group.run(SAVEPOINT);
      return new Member(group, first);
    } catch (SQLException e) {
      abandon(e);
      turn.unlock();
      throw Sql.failure(dialect, e);
    }
  }

  private void takeTurn() {
    try {
      boolean unused =
          room.await(
              () -> {
                if (!turn.tryLock(patience.toMillis(), TimeUnit.MILLISECONDS)) {
                  throw new SQLException("The turn to write did not come.");
                }
                return true;
              });
    } catch (SQLException e) {
      throw Sql.failure(dialect, e);
    }
  }

  private Group begin() throws SQLException {
    Group group = new Group(writer.getConnection(), new CompletableFuture<>());
    open = Optional.of(group);
    group.run("BEGIN IMMEDIATE");
    return group;
  }

  /** Ends the open group without keeping anything; its members learn why. */
  private void abandon(SQLException why) {
    open.ifPresent(
        group -> {
          open = Optional.empty();
          try (Connection connection = group.connection();
              Statement statement = connection.createStatement()) {
            statement.execute("ROLLBACK");
          } catch (SQLException e) {
            // A full disk or a failed BEGIN has ended the transaction already.
            why.addSuppressed(e);
          }
          group
              .durable()
              .completeExceptionally(new StoreUnavailable("The store is not available.", why));
        });
  }

  /** One session's part of the transaction. */
  final class Member {
    private final Group group;
    private final boolean first;

    private Member(Group group, boolean first) {
      this.group = group;
      this.first = first;
    }

    Connection connection() {
      return group.connection();
    }

    /** Returns when what the member wrote is on the disk. */
    void commit() {
      try {
        group.run(RELEASE);
      } catch (SQLException e) {
        abandon(e);
      } finally {
        turn.unlock();
      }
      if (first) {
        commitGroup();
      }
      await();
    }

    /** Takes back what the member wrote, and only that. */
    void rollback() {
      try {
        group.run("ROLLBACK TO member");
        group.run(RELEASE);
        if (first) {
          abandon(new SQLException("Nobody else has joined yet."));
        }
      } catch (SQLException e) {
        abandon(e);
      } finally {
        turn.unlock();
      }
    }

    private void commitGroup() {
      turn.lock();
      try {
        if (open.filter(group::equals).isPresent()) {
          group.run("COMMIT");
          open = Optional.empty();
          group.connection().close();
          group.durable().complete(true);
        }
      } catch (SQLException e) {
        abandon(e);
      } finally {
        turn.unlock();
      }
    }

    private void await() {
      try {
        group.durable().join();
      } catch (CompletionException e) {
        throw e.getCause() instanceof RuntimeException cause ? cause : e;
      }
    }
  }
}
