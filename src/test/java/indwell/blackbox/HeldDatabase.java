package indwell.blackbox;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;

/**
 * The file of the embedded database in the hands of somebody else: nothing is written meanwhile.
 */
record HeldDatabase(Connection holder) implements AutoCloseable {
  /**
   * Takes hold of it.
   *
   * @param data the folder that it is in
   */
  static HeldDatabase in(Path data) throws SQLException {
    Connection holder = DriverManager.getConnection("jdbc:sqlite:" + data.resolve("indwell.db"));
    try (Statement statement = holder.createStatement()) {
      statement.execute("BEGIN IMMEDIATE");
      return new HeldDatabase(holder);
    } catch (SQLException e) {
      holder.close();
      throw e;
    }
  }

  @Override
  public void close() throws SQLException {
    holder.close();
  }
}
