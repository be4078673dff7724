package indwell.adapter.store.sqlite;

import indwell.adapter.store.jdbc.Connections;
import indwell.adapter.store.jdbc.Database;
import indwell.adapter.store.jdbc.Dialect;
import indwell.adapter.store.jdbc.Migrations;
import indwell.adapter.store.jdbc.PoolLimits;
import indwell.adapter.store.jdbc.Sql;
import indwell.adapter.store.jdbc.WaitingRoom;
import indwell.adapter.store.jdbc.WriteSession;
import io.agroal.api.AgroalDataSource;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.time.Duration;
import java.util.concurrent.locks.Lock;
import java.util.concurrent.locks.ReadWriteLock;
import java.util.concurrent.locks.ReentrantReadWriteLock;

/** The open file: one connection that writes, a few that read, and the locks of this process. */
final class SqliteDatabase implements Database {
  static final Duration PATIENCE = Duration.ofSeconds(10);

  private static final String LAST_CHANGE = "SELECT coalesce(max(change), 0) FROM resource";

  private final SqliteDialect dialect = new SqliteDialect();
  private final DataFolder folder;
  private final AgroalDataSource writer;
  private final AgroalDataSource readers;
  private final GroupCommit writers;
  private final WaitingRoom writing;
  private final WaitingRoom reading;

  /** Shared by the sessions; in turn, so that whoever wants to be alone gets there. */
  private final ReadWriteLock sessions = new ReentrantReadWriteLock(true);

  final StripedLocks events = new StripedLocks(PATIENCE);
  final StripedLocks patients = new StripedLocks(PATIENCE);

  private SqliteDatabase(DataFolder folder, PoolLimits limits) throws SQLException {
    this.folder = folder;
    this.writing = new WaitingRoom(limits);
    this.reading = new WaitingRoom(limits);
    this.writer = SqlitePools.writer(folder.database(), PATIENCE);
    this.readers = SqlitePools.readers(folder.database(), limits, PATIENCE);
    this.writers = new GroupCommit(writer, dialect, writing, limits.patience());
  }

  static SqliteDatabase open(Path dataDir, PoolLimits limits) {
    DataFolder folder = DataFolder.open(dataDir);
    try {
      SqliteDatabase database = new SqliteDatabase(folder, limits);
      try {
        Migrations.run(database.writer, database.dialect);
        folder.identify();
        return database;
      } catch (RuntimeException e) {
        database.closePools();
        throw e;
      }
    } catch (SQLException e) {
      folder.close();
      throw Sql.failure(new SqliteDialect(), e);
    } catch (RuntimeException e) {
      folder.close();
      throw e;
    }
  }

  @Override
  public Dialect dialect() {
    return dialect;
  }

  @Override
  public Connection reader() throws SQLException {
    return reading.await(readers::getConnection);
  }

  GroupCommit writers() {
    return writers;
  }

  @Override
  public WriteSession begin() {
    return new SqliteSession(this, holding(sessions.readLock()));
  }

  @Override
  public WriteSession beginAlone() {
    return new SqliteSession(this, holding(sessions.writeLock()));
  }

  /** One transaction writes at a time, and a number is seen when its commit is. */
  @Override
  public long settledChange() {
    try (Connection connection = reader()) {
      return new Sql(dialect, Connections.fixed(connection))
          .query(LAST_CHANGE, statement -> {}, row -> row.getLong(1))
          .get(0);
    } catch (SQLException e) {
      throw Sql.failure(dialect, e);
    }
  }

  private static Runnable holding(Lock lock) {
    StripedLocks.take(lock, PATIENCE);
    return lock::unlock;
  }

  @Override
  public boolean crowded() {
    return writing.crowded() || reading.crowded();
  }

  @Override
  public boolean present() {
    return folder.sameFile();
  }

  @Override
  public void close() {
    closePools();
    folder.close();
  }

  private void closePools() {
    readers.close();
    writer.close();
  }
}
