package indwell.adapter.store.sqlite;

import indwell.adapter.store.jdbc.PoolLimits;
import io.agroal.api.AgroalDataSource;
import io.agroal.api.configuration.supplier.AgroalConnectionFactoryConfigurationSupplier;
import io.agroal.api.configuration.supplier.AgroalDataSourceConfigurationSupplier;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Duration;
import java.util.function.UnaryOperator;
import org.sqlite.JDBC;

/** How connections to the file are made. */
final class SqlitePools {
  static final int READERS = 4;

  private SqlitePools() {}

  /** The one connection that writes. */
  static AgroalDataSource writer(Path file, Duration busy) throws SQLException {
    return pool(file, 1, busy, busy, f -> f.jdbcProperty("cache_size", "-65536"));
  }

  /** Connections that cannot write. */
  static AgroalDataSource readers(Path file, PoolLimits limits, Duration busy) throws SQLException {
    return pool(
        file,
        limits.connections(),
        limits.patience(),
        busy,
        f -> f.jdbcProperty("cache_size", "-16384").initialSql("PRAGMA query_only = ON"));
  }

  /**
   * The log is flushed to the disk with every commit ({@code synchronous=FULL}), so that a commit
   * survives a power cut as well as the end of the process.
   *
   * @param patience of who waits for a connection
   * @param busy how long a statement waits while another program holds the file
   */
  private static AgroalDataSource pool(
      Path file,
      int size,
      Duration patience,
      Duration busy,
      UnaryOperator<AgroalConnectionFactoryConfigurationSupplier> own)
      throws SQLException {
    return AgroalDataSource.from(
        new AgroalDataSourceConfigurationSupplier()
            .connectionPoolConfiguration(
                pool ->
                    pool.maxSize(size)
                        .acquisitionTimeout(patience)
                        .connectionFactoryConfiguration(
                            factory ->
                                own.apply(
                                    factory
                                        .connectionProviderClass(JDBC.class)
                                        .jdbcUrl("jdbc:sqlite:" + file)
                                        .jdbcProperty("journal_mode", "WAL")
                                        .jdbcProperty("synchronous", "FULL")
                                        .jdbcProperty("foreign_keys", "true")
                                        .jdbcProperty("temp_store", "MEMORY")
                                        .jdbcProperty("journal_size_limit", "67108864")
                                        .jdbcProperty(
                                            "busy_timeout", Long.toString(busy.toMillis()))))));
  }
}
