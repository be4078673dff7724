package indwell.adapter.store.jdbc;

import java.sql.Connection;
import java.sql.SQLException;

/** Where the connection for the next statement comes from. */
@FunctionalInterface
public interface Connections {

  /** Lends a connection for one statement. */
  Lease lease() throws SQLException;

  /** Always this connection, which somebody else closes. */
  static Connections fixed(Connection connection) {
    return () -> new Lease(connection, false);
  }

  /**
   * A connection on loan.
   *
   * @param owned whether the loan closes it
   */
  record Lease(Connection connection, boolean owned) implements AutoCloseable {
    @Override
    public void close() throws SQLException {
      if (owned) {
        connection.close();
      }
    }
  }
}
