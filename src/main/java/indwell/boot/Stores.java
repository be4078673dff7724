package indwell.boot;

import indwell.adapter.store.jdbc.JdbcStore;
import indwell.adapter.store.postgres.PostgresStore;
import indwell.adapter.store.sqlite.SqliteStore;
import java.nio.file.Path;

/** The store that the configuration names. */
public final class Stores {
  private Stores() {}

  /**
   * Opens it.
   *
   * @throws indwell.port.StoreUnavailable if it cannot be reached
   * @throws IllegalStateException if another process has it, or a newer release wrote it
   */
  public static JdbcStore open(IndwellConfig config) {
    return config
        .databaseUrl()
        .map(
            url ->
                PostgresStore.open(
                    url, config.databaseUser().orElse(""), config.databasePassword().orElse("")))
        .orElseGet(() -> SqliteStore.open(Path.of(config.dataDir())));
  }
}
