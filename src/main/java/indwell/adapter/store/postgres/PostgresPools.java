package indwell.adapter.store.postgres;

import indwell.adapter.store.jdbc.Dialect;
import indwell.adapter.store.jdbc.PoolLimits;
import io.agroal.api.AgroalDataSource;
import io.agroal.api.configuration.AgroalConnectionFactoryConfiguration.TransactionIsolation;
import io.agroal.api.configuration.AgroalConnectionPoolConfiguration.ConnectionValidator;
import io.agroal.api.configuration.supplier.AgroalConnectionFactoryConfigurationSupplier;
import io.agroal.api.configuration.supplier.AgroalDataSourceConfigurationSupplier;
import io.agroal.api.security.NamePrincipal;
import io.agroal.api.security.SimplePassword;
import java.sql.SQLException;
import java.time.Duration;
import java.util.function.UnaryOperator;
import javax.sql.DataSource;
import org.postgresql.Driver;
import org.postgresql.ds.PGSimpleDataSource;

/** How connections to the server are made. */
record PostgresPools(String url, String user, String password, PoolLimits limits) {
  /** Of each kind. */
  static final int SIZE = 8;

  /** A connection that has been idle longer is tried before it is used again. */
  private static final Duration FRESH = Duration.ofMillis(500);

  private static final int CONNECT_SECONDS = 5;

  private static final String NAME = "indwell";

  private static final String WRITERS =
      "SET lock_timeout = '10s'; SET enable_seqscan = off;"
          + " SET plan_cache_mode = force_generic_plan";

  /**
   * Connections that write. A statement sees what was committed before it began, so that what is
   * read after waiting for a lock is what the former holder left. All that they read is looked up
   * by a key, which the server is told: without statistics, as in a young store, it would read
   * through whole tables, and it would plan each look-up anew.
   */
  AgroalDataSource writer() throws SQLException {
    return pool(
        f -> f.jdbcTransactionIsolation(TransactionIsolation.READ_COMMITTED).initialSql(WRITERS));
  }

  /** Connections that cannot write; a transaction sees one state throughout. */
  AgroalDataSource readers() throws SQLException {
    return pool(
        f ->
            f.jdbcTransactionIsolation(TransactionIsolation.REPEATABLE_READ)
                .initialSql("SET default_transaction_read_only = on"));
  }

  /**
   * Connections that bring the tables up to date. A statement there may take as long as it needs:
   * to write a large store anew takes minutes.
   */
  DataSource upgrades() {
    PGSimpleDataSource source = new PGSimpleDataSource();
    source.setURL(url);
    source.setUser(user);
    source.setPassword(password);
    source.setConnectTimeout(CONNECT_SECONDS);
    source.setTcpKeepAlive(true);
    source.setLogServerErrorDetail(false);
    source.setApplicationName(NAME);
    return source;
  }

  private AgroalDataSource pool(UnaryOperator<AgroalConnectionFactoryConfigurationSupplier> own)
      throws SQLException {
    Dialect dialect = new PostgresDialect();
    return AgroalDataSource.from(
        new AgroalDataSourceConfigurationSupplier()
            .connectionPoolConfiguration(
                pool ->
                    pool.maxSize(limits.connections())
                        .acquisitionTimeout(limits.patience())
                        .idleValidationTimeout(FRESH)
                        .connectionValidator(ConnectionValidator.defaultValidator())
                        .exceptionSorter(e -> dialect.classify(e) == Dialect.Failure.UNAVAILABLE)
                        .connectionFactoryConfiguration(factory -> own.apply(login(factory)))));
  }

  /**
   * The server's details of an error quote the row, which is about a patient: they stay there. Rows
   * of a batch go as one statement, which costs the server less than one each.
   */
  private AgroalConnectionFactoryConfigurationSupplier login(
      AgroalConnectionFactoryConfigurationSupplier factory) {
    return factory
        .connectionProviderClass(Driver.class)
        .jdbcUrl(url)
        .principal(new NamePrincipal(user))
        .credential(new SimplePassword(password))
        .jdbcProperty("logServerErrorDetail", "false")
        .jdbcProperty("connectTimeout", Integer.toString(CONNECT_SECONDS))
        .jdbcProperty("socketTimeout", "30")
        .jdbcProperty("tcpKeepAlive", "true")
        .jdbcProperty("reWriteBatchedInserts", "true")
        .jdbcProperty("ApplicationName", NAME);
  }
}
