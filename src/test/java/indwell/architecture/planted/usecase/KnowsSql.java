package indwell.architecture.planted.usecase;

import java.sql.Connection;

/** Planted: a use case that knows the database. */
public interface KnowsSql {

  void run(Connection connection);
}
