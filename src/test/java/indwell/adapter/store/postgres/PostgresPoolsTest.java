package indwell.adapter.store.postgres;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.jdbc.PoolLimits;
import indwell.contract.TestPostgres;
import io.agroal.api.AgroalDataSource;
import java.sql.Connection;
import java.sql.SQLException;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** How connections to the server are made. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PostgresPoolsTest {

  /** To write a store of a million resources anew takes longer than any question may. */
  @Test
  void a_statement_that_brings_tables_up_to_date_may_take_its_time() throws SQLException {
    PostgresPools pools =
        new PostgresPools(
            TestPostgres.newDatabase(),
            TestPostgres.USER,
            TestPostgres.PASSWORD,
            PoolLimits.of(PostgresPools.SIZE));
    try (AgroalDataSource writer = pools.writer();
        Connection usual = writer.getConnection();
        Connection upgrade = pools.upgrades().getConnection()) {
      assertThat(usual.getNetworkTimeout()).isEqualTo(30_000);
      assertThat(upgrade.getNetworkTimeout()).isZero();
    }
  }
}
