package indwell.adapter.store.jdbc;

import indwell.port.StoreUnavailable;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;

/**
 * Runs statements and says in the port's words what went wrong. Messages never hold values: they
 * may be about patients.
 */
public final class Sql {

  /** Sets the parameters of a statement. */
  @FunctionalInterface
  public interface Bind {
    void to(PreparedStatement statement) throws SQLException;
  }

  /** Sets the parameters of a statement for one of many items. */
  @FunctionalInterface
  public interface BindItem<T> {
    void to(PreparedStatement statement, T item) throws SQLException;
  }

  /** Reads the row that the cursor is on. */
  @FunctionalInterface
  public interface Row<R> {
    R read(ResultSet row) throws SQLException;
  }

  /** Looks at the row that the cursor is on. */
  @FunctionalInterface
  interface VisitRow {
    void row(ResultSet row) throws SQLException;
  }

  private static final int ROWS_AT_ONCE = 5_000;

  private final Dialect dialect;
  private final Connections connections;

  public Sql(Dialect dialect, Connections connections) {
    this.dialect = dialect;
    this.connections = connections;
  }

  Dialect dialect() {
    return dialect;
  }

  /** All rows of a query. */
  public <R> List<R> query(String sql, Bind bind, Row<R> row) {
    try (Connections.Lease lease = connections.lease();
        PreparedStatement statement = lease.connection().prepareStatement(sql)) {
      bind.to(statement);
      try (ResultSet rows = statement.executeQuery()) {
        List<R> all = new ArrayList<>();
        while (rows.next()) {
          all.add(row.read(rows));
        }
        return all;
      }
    } catch (SQLException e) {
      throw failure(dialect, e);
    }
  }

  /** Visits the rows of a query one by one; they are not held in memory. */
  void forEach(String sql, Bind bind, VisitRow visit) {
    forEach(sql, ROWS_AT_ONCE, bind, visit);
  }

  /** The same for rows of another size; no more than so many are in memory. */
  void forEach(String sql, int rowsAtOnce, Bind bind, VisitRow visit) {
    try (Connections.Lease lease = connections.lease();
        PreparedStatement statement = lease.connection().prepareStatement(sql)) {
      statement.setFetchSize(rowsAtOnce);
      bind.to(statement);
      try (ResultSet rows = statement.executeQuery()) {
        while (rows.next()) {
          visit.row(rows);
        }
      }
    } catch (SQLException e) {
      throw failure(dialect, e);
    }
  }

  /**
   * Runs the statement once for each item; the numbers of rows changed, item by item. Of rows that
   * are inserted a database may tell nothing, since it is given many of them at once.
   */
  public <T> int[] batch(String sql, Collection<T> items, BindItem<T> bind) {
    if (items.isEmpty()) {
      return new int[0];
    }
    try (Connections.Lease lease = connections.lease();
        PreparedStatement statement = lease.connection().prepareStatement(sql)) {
      for (T item : items) {
        bind.to(statement, item);
        statement.addBatch();
      }
      return statement.executeBatch();
    } catch (SQLException e) {
      throw failure(dialect, e);
    } catch (AssertionError e) {
      // How PostgreSQL's driver tells that the connection was lost when a batch began.
      throw new StoreUnavailable("The store is not available.", e);
    }
  }

  /** Adds the rows of a table, in their order. */
  public void insert(Insert.Rows<?> rows) {
    if (!rows.items().isEmpty()) {
      write(List.of(), List.of(rows));
    }
  }

  /** Takes the steps, one after the other. */
  public void run(List<Step> steps) {
    try (Connections.Lease lease = connections.lease()) {
      dialect.run(lease.connection(), steps);
    } catch (SQLException e) {
      throw failure(dialect, e);
    }
  }

  /** Takes the steps, then adds the rows; a table without rows may be among them. */
  void write(List<Step> steps, List<Insert.Rows<?>> rows) {
    try (Connections.Lease lease = connections.lease()) {
      dialect.write(lease.connection(), steps, rows);
    } catch (SQLException e) {
      throw failure(dialect, e);
    }
  }

  /** What to throw for a failure of the database. */
  public static RuntimeException failure(Dialect dialect, SQLException e) {
    return switch (dialect.classify(e)) {
      case UNAVAILABLE -> new StoreUnavailable("The store is not available.", e);
      case CONTENTION -> new Contention(new StoreUnavailable("The store is too busy.", e));
      case TAKEN ->
          new Contention(new IllegalStateException("A row with that key is there already.", e));
      case DEFECT -> new IllegalStateException("The store refused a statement.", e);
    };
  }
}
