package indwell.adapter.store.jdbc;

import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.Collection;
import java.util.function.Consumer;

/**
 * One of several statements that go to the database together, in one round trip where it can. Each
 * sees what those before it did.
 *
 * @param text in SQL
 * @param bind sets its parameters
 * @param answer takes what it gave
 * @param idle whether it does nothing, and stands here so that the same statements always go
 *     together, which a database may have prepared
 */
public record Step(String text, Bind bind, Answer answer, boolean idle) {

  /** Sets the parameters of a statement among others. */
  @FunctionalInterface
  public interface Bind {
    /**
     * Sets them.
     *
     * @param first index of the first parameter
     * @return the index behind the last
     */
    int to(PreparedStatement statement, int first) throws SQLException;
  }

  /** Takes what a statement gave, which is the current result. */
  @FunctionalInterface
  public interface Answer {
    void from(PreparedStatement statement) throws SQLException;
  }

  /** A question, each row of the answer to which is taken. */
  public static <R> Step question(
      String text, Bind bind, Sql.Row<R> row, Consumer<? super R> each) {
    return new Step(
        text,
        bind,
        statement -> {
          try (ResultSet rows = statement.getResultSet()) {
            while (rows.next()) {
              each.accept(row.read(rows));
            }
          }
        },
        false);
  }

  /**
   * Deletes the rows of a table with one of the values in a column. Without values it is idle: it
   * stands there for the sake of those that it goes with.
   */
  static Step deletion(Dialect dialect, String table, String column, Collection<String> values) {
    return new Step(
        "DELETE FROM " + table + " WHERE " + dialect.in(column),
        listed(dialect, values),
        statement -> {},
        values.isEmpty());
  }

  /** Sets the one parameter of {@link Dialect#in}. */
  static Bind listed(Dialect dialect, Collection<String> values) {
    return (statement, first) -> {
      dialect.bindList(statement, first, values);
      return first + 1;
    };
  }
}
