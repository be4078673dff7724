package indwell.adapter.store.postgres;

import indwell.adapter.store.jdbc.Connections;
import indwell.adapter.store.jdbc.Database;
import indwell.adapter.store.jdbc.Dialect;
import indwell.adapter.store.jdbc.Migrations;
import indwell.adapter.store.jdbc.PoolLimits;
import indwell.adapter.store.jdbc.Sql;
import indwell.adapter.store.jdbc.WaitingRoom;
import indwell.adapter.store.jdbc.WriteSession;
import io.agroal.api.AgroalDataSource;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.function.BiFunction;
import javax.sql.DataSource;

/** The server: some connections that write, some that read. */
final class PostgresDatabase implements Database {
  private final PostgresDialect dialect = new PostgresDialect();
  private final AgroalDataSource writer;
  private final AgroalDataSource readers;
  private final WaitingRoom writing;
  private final WaitingRoom reading;

  private PostgresDatabase(PostgresPools pools) throws SQLException {
    this.writing = new WaitingRoom(pools.limits());
    this.reading = new WaitingRoom(pools.limits());
    this.writer = pools.writer();
    this.readers = pools.readers();
  }

  static PostgresDatabase open(String url, String user, String password, PoolLimits limits) {
    try {
      PostgresPools pools = new PostgresPools(url, user, password, limits);
      PostgresDatabase database = new PostgresDatabase(pools);
      database.prepare(pools.upgrades());
      return database;
    } catch (SQLException e) {
      throw Sql.failure(new PostgresDialect(), e);
    }
  }

  private void prepare(DataSource upgrades) throws SQLException {
    try {
      try (Connection connection = writer.getConnection()) {
        Durability.require(connection);
      }
      Migrations.run(upgrades, dialect);
    } catch (SQLException | RuntimeException e) {
      close();
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

  @Override
  public WriteSession begin() {
    return open(PostgresSession::open);
  }

  @Override
  public WriteSession beginAlone() {
    return open(PostgresSession::openAlone);
  }

  private WriteSession open(BiFunction<PostgresDialect, Connection, PostgresSession> how) {
    try {
      return how.apply(dialect, writing.await(writer::getConnection));
    } catch (SQLException e) {
      throw Sql.failure(dialect, e);
    }
  }

  @Override
  public long settledChange() {
    try (Connection connection = reader()) {
      // Each statement has to see what was committed before it.
      connection.setAutoCommit(true);
      return new WriterFence(new Sql(dialect, Connections.fixed(connection))).settledChange();
    } catch (SQLException e) {
      throw Sql.failure(dialect, e);
    }
  }

  @Override
  public boolean crowded() {
    return writing.crowded() || reading.crowded();
  }

  /** Each statement finds out. */
  @Override
  public boolean present() {
    return true;
  }

  @Override
  public void close() {
    readers.close();
    writer.close();
  }
}
