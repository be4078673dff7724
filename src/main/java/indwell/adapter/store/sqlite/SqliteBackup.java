package indwell.adapter.store.sqlite;

import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import org.sqlite.SQLiteConfig;

/** Copies of the embedded database, while a service writes to it or not. */
public final class SqliteBackup {
  private SqliteBackup() {}

  /**
   * Writes the database of a data folder, as it stands at one moment, to a new file, and reads the
   * copy to its end. Whatever was answered {@code recorded} before the call is in it.
   *
   * @param dataDir the folder that a service was given
   * @param target a file that is not there yet
   * @return how many versions of events are in the copy
   * @throws NoSuchFileException if the folder has no database
   * @throws FileAlreadyExistsException if the target is there: a backup replaces nothing
   * @throws SQLException if it cannot be read or written, or the copy is damaged
   */
  public static long copy(Path dataDir, Path target)
      throws NoSuchFileException, FileAlreadyExistsException, SQLException {
    Path database = dataDir.resolve("indwell.db");
    if (!Files.isRegularFile(database)) {
      throw new NoSuchFileException(database.toString());
    }
    if (Files.exists(target)) {
      throw new FileAlreadyExistsException(target.toString());
    }
    try (Connection connection = open(database);
        PreparedStatement copy = connection.prepareStatement("VACUUM INTO ?")) {
      copy.setString(1, target.toString());
      copy.execute();
    }
    return sound(target);
  }

  private static long sound(Path copy) throws SQLException {
    try (Connection connection = open(copy);
        Statement statement = connection.createStatement()) {
      try (ResultSet check = statement.executeQuery("PRAGMA integrity_check")) {
        if (!check.next() || !check.getString(1).equals("ok")) {
          throw new SQLException("The copy is damaged.");
        }
      }
      try (ResultSet events = statement.executeQuery("SELECT count(*) FROM event")) {
        events.next();
        return events.getLong(1);
      }
    }
  }

  /** Reading only: a copy never changes what it is made of. */
  private static Connection open(Path file) throws SQLException {
    SQLiteConfig config = new SQLiteConfig();
    config.setReadOnly(true);
    config.setBusyTimeout((int) SqliteDatabase.PATIENCE.toMillis());
    return config.createConnection("jdbc:sqlite:" + file);
  }
}
