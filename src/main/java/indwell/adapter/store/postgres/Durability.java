package indwell.adapter.store.postgres;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;

/**
 * Settings of the server without which an event that was answered as recorded may be gone after a
 * crash (PostgreSQL 17, 19.5, https://www.postgresql.org/docs/17/runtime-config-wal.html).
 */
final class Durability {
  private static final String QUERY =
      "SELECT current_setting('fsync'), current_setting('full_page_writes'),"
          + " current_setting('synchronous_commit'), current_setting('server_encoding')";

  private Durability() {}

  /**
   * @throws IllegalStateException naming every setting that has to change
   */
  static void require(Connection connection) throws SQLException {
    List<String> faults = new ArrayList<>();
    try (Statement statement = connection.createStatement();
        ResultSet row = statement.executeQuery(QUERY)) {
      row.next();
      refuseOff(faults, "fsync", row.getString(1));
      refuseOff(faults, "full_page_writes", row.getString(2));
      refuseOff(faults, "synchronous_commit", row.getString(3));
      if (!"UTF8".equals(row.getString(4))) {
        faults.add("server_encoding is " + row.getString(4) + ", expected UTF8");
      }
    }
    if (!faults.isEmpty()) {
      throw new IllegalStateException(
          "The PostgreSQL server does not keep what it commits: "
              + String.join("; ", faults)
              + ".");
    }
  }

  private static void refuseOff(List<String> faults, String name, String value) {
    if ("off".equals(value)) {
      faults.add(name + " is off, expected on");
    }
  }
}
