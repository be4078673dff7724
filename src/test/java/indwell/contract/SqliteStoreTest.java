package indwell.contract;

import indwell.adapter.store.sqlite.SqliteStore;
import indwell.port.ClinicalStore;
import java.nio.file.Path;
import org.junit.jupiter.api.io.TempDir;

/** The embedded store. */
class SqliteStoreTest extends ClinicalStoreContract {
  @TempDir Path folder;

  @Override
  ClinicalStore openEmpty() {
    return SqliteStore.open(folder.resolve("data"));
  }
}
