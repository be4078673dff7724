package indwell.adapter.store.postgres;

import indwell.adapter.store.jdbc.JdbcStore;
import indwell.adapter.store.jdbc.PoolLimits;

/** Opens the store on a PostgreSQL server. */
public final class PostgresStore {
  private PostgresStore() {}

  /**
   * Connects, checks that the server keeps what it commits, and brings the tables up to date.
   *
   * @param url JDBC URL, {@code jdbc:postgresql://host:5432/name}
   * @throws indwell.port.StoreUnavailable if the server cannot be reached
   * @throws IllegalStateException if the server may lose commits, does not keep UTF-8, or a newer
   *     release wrote the tables
   */
  public static JdbcStore open(String url, String user, String password) {
    return open(url, user, password, PoolLimits.of(PostgresPools.SIZE));
  }

  /** The same with other limits; the connections of each of two kinds are as many. */
  public static JdbcStore open(String url, String user, String password, PoolLimits limits) {
    return new JdbcStore(PostgresDatabase.open(url, user, password, limits));
  }
}
