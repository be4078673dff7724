package indwell.adapter.store.sqlite;

import indwell.adapter.store.jdbc.JdbcStore;
import indwell.adapter.store.jdbc.PoolLimits;
import java.nio.file.Path;

/** Opens the embedded store. */
public final class SqliteStore {
  private SqliteStore() {}

  /**
   * Opens the file {@code indwell.db} in the folder, makes both if they are not there, and brings
   * its tables up to date.
   *
   * @throws indwell.port.StoreUnavailable if the folder cannot be made or written to
   * @throws IllegalStateException if another process has it open or a newer release wrote it
   */
  public static JdbcStore open(Path dataDir) {
    return open(dataDir, PoolLimits.of(SqlitePools.READERS));
  }

  /** The same with other limits; the connections are those that read. */
  public static JdbcStore open(Path dataDir, PoolLimits limits) {
    return new JdbcStore(SqliteDatabase.open(dataDir, limits));
  }
}
