package indwell.adapter.store.jdbc;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.Collection;
import java.util.List;
import java.util.Map;

/** What one database spells otherwise than the next. */
public interface Dialect {

  /** Why a statement failed, as far as the caller can do something about it. */
  enum Failure {
    /** The database is away, full or read-only: the same call may succeed later. */
    UNAVAILABLE,
    /** Another transaction got in the way: the whole transaction can be run again at once. */
    CONTENTION,
    /** A row with that key is there: another transaction was first, and this one may run again. */
    TAKEN,
    /** Anything else is a defect. */
    DEFECT
  }

  /**
   * The condition that an expression equals one of a list of texts. It has one parameter, the whole
   * list, so that lists of any length make the same statement.
   */
  String in(String expression);

  /** A list of texts as a table with one column, {@code value}; it has the same parameter. */
  String list(String name);

  /** Sets the parameter of {@link #in} and {@link #list}. */
  void bindList(PreparedStatement statement, int index, Collection<String> values)
      throws SQLException;

  /** Takes the steps, one after the other. */
  default void run(Connection connection, List<Step> steps) throws SQLException {
    for (Step step : steps) {
      if (!step.idle()) {
        try (PreparedStatement statement = connection.prepareStatement(step.text())) {
          step.bind().to(statement, 1);
          statement.execute();
          step.answer().from(statement);
        }
      }
    }
  }

  /** Takes the steps, and adds the rows. Those of different tables in no particular order. */
  default void write(Connection connection, List<Step> steps, List<Insert.Rows<?>> rows)
      throws SQLException {
    run(connection, steps);
    for (Insert.Rows<?> ofTable : rows) {
      ofTable.oneByOne(connection);
    }
  }

  /** How what resources are found by is kept. */
  default FoundBy foundBy() {
    return new FoundByRows();
  }

  /** Has the statement planned anew for the values that it is given. */
  default void planForValues(PreparedStatement statement) throws SQLException {}

  /** Has the statement give many numbers in the shortest way. */
  default void expectNumbers(PreparedStatement statement) throws SQLException {}

  /** The aggregate of columns of whole numbers: all of the first, then all of the second. */
  String numbers(List<String> columns);

  /** Reads a column of {@link #numbers}; empty when there was no row. */
  long[] readNumbers(ResultSet row, int column) throws SQLException;

  /** Tells what the failure means. */
  Failure classify(SQLException failure);

  /** The folder of the scripts that only this database runs; there may be none in it. */
  String ownScripts();

  /** Values of the placeholders {@code text}, {@code sequence} and {@code clustered}. */
  Map<String, String> placeholders();
}
