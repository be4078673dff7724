package indwell.contract;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.adapter.store.sqlite.SqliteStore;
import indwell.port.ClinicalStore;
import indwell.port.StoreUnavailable;
import java.nio.file.Path;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Every connection to the database is in use and none comes back. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PoolExhaustionTest {
  /** More than any pool of ours has. */
  private static final int HELD = 8;

  @Test
  void who_finds_no_connection_is_told_and_is_served_when_there_is_one(@TempDir Path folder)
      throws Exception {
    ExecutorService holders = Executors.newFixedThreadPool(HELD);
    CountDownLatch holding = new CountDownLatch(4);
    CountDownLatch letGo = new CountDownLatch(1);
    try (ClinicalStore store = SqliteStore.open(folder)) {
      for (int i = 0; i < HELD; i++) {
        holders.submit(() -> store.read(state -> hold(holding, letGo)));
      }
      holding.await();
      assertThatThrownBy(() -> store.read(state -> "never")).isInstanceOf(StoreUnavailable.class);
      letGo.countDown();
      assertThat(store.<String>read(state -> "at last")).isEqualTo("at last");
    } finally {
      letGo.countDown();
      holders.shutdownNow();
    }
  }

  private static String hold(CountDownLatch holding, CountDownLatch letGo) {
    try {
      holding.countDown();
      letGo.await();
      return "held";
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return "interrupted";
    }
  }
}
