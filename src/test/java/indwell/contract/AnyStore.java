package indwell.contract;

import indwell.adapter.store.memory.MemoryStore;
import indwell.adapter.store.postgres.PostgresStore;
import indwell.adapter.store.sqlite.SqliteStore;
import indwell.port.ClinicalStore;
import java.nio.file.Path;

/** The stores there are, for tests that run over each of them. */
public enum AnyStore {
  MEMORY,
  SQLITE,
  POSTGRES;

  /**
   * Opens an empty one.
   *
   * @param folder empty, for whatever it keeps in files
   */
  public ClinicalStore open(Path folder) {
    return switch (this) {
      case MEMORY -> new MemoryStore();
      case SQLITE -> SqliteStore.open(folder.resolve("data"));
      case POSTGRES ->
          PostgresStore.open(TestPostgres.newDatabase(), TestPostgres.USER, TestPostgres.PASSWORD);
    };
  }
}
