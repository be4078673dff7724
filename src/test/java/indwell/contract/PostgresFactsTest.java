package indwell.contract;

import static org.awaitility.Awaitility.await;

import indwell.adapter.store.jdbc.JdbcStore;
import indwell.adapter.store.postgres.PostgresStore;
import indwell.port.SurveillanceFacts;
import java.time.Duration;
import org.junit.jupiter.api.Test;

/** The facts of the store on a server. */
class PostgresFactsTest extends SurveillanceFactsContract {
  private String url = "";
  private JdbcStore store;

  @Override
  SurveillanceFacts openEmpty() {
    url = TestPostgres.newDatabase();
    store = PostgresStore.open(url, TestPostgres.USER, TestPostgres.PASSWORD);
    return store.facts();
  }

  @Override
  void closeAll() {
    store.close();
  }

  @Test
  void every_acknowledged_version_survives_kill_9_of_the_service() throws Exception {
    int acknowledged = KillableFactsWriter.killAfter(41, "postgres", url);

    await()
        .atMost(Duration.ofSeconds(10))
        .untilAsserted(() -> KillableFactsWriter.allThere(facts, acknowledged));
  }
}
