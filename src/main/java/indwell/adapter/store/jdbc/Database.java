package indwell.adapter.store.jdbc;

import java.sql.Connection;
import java.sql.SQLException;

/** An open database: gives out connections and transactions. */
public interface Database extends AutoCloseable {

  Dialect dialect();

  /** A connection, outside any transaction, on which one consistent state can be read. */
  Connection reader() throws SQLException;

  /** Begins a transaction that may write. */
  WriteSession begin();

  /** Waits until no transaction that may write is under way, and begins one beside no other. */
  WriteSession beginAlone();

  /**
   * The highest number of a change of a resource so that every change up to it is committed, or
   * will never be. Numbers are given before the commit, so a lower one may become visible later.
   */
  long settledChange();

  /** Whether as many wait for a connection as may while nobody gets one. */
  boolean crowded();

  /** Whether the files or the server are still those that were opened. */
  boolean present();

  @Override
  void close();
}
