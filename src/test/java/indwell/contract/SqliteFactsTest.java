package indwell.contract;

import static indwell.contract.Samples.NOON;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.jdbc.JdbcStore;
import indwell.adapter.store.sqlite.SqliteStore;
import indwell.port.SurveillanceFacts;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The facts of the embedded store. */
class SqliteFactsTest extends SurveillanceFactsContract {
  @TempDir Path folder;
  private JdbcStore store;

  @Override
  SurveillanceFacts openEmpty() {
    store = SqliteStore.open(folder.resolve("data"));
    return store.facts();
  }

  @Override
  void closeAll() {
    store.close();
  }

  @Test
  void facts_are_there_after_closing_and_opening() {
    facts.record(List.of(stated(MARCH, "{\"a\":91}")), NOON, none -> List.of());
    store.close();

    assertThat(openEmpty().versions(MARCH)).containsExactly(stored(MARCH, 1, NOON, "{\"a\":91}"));
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 57})
  void every_acknowledged_version_survives_kill_9(int atLeast) throws Exception {
    store.close();
    int acknowledged =
        KillableFactsWriter.killAfter(atLeast, "sqlite", folder.resolve("data").toString());

    KillableFactsWriter.allThere(openEmpty(), acknowledged);
  }
}
