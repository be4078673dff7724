package indwell.adapter.store.jdbc;

import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;

/**
 * A piece of SQL and its parameters, in their order. The text is put together from constants, never
 * from values.
 */
public final class Condition {
  private final Dialect dialect;
  private final StringBuilder text = new StringBuilder();
  private final List<Parameter> parameters = new ArrayList<>();

  @FunctionalInterface
  private interface Parameter {
    void bind(PreparedStatement statement, int index) throws SQLException;
  }

  Condition(Dialect dialect) {
    this.dialect = dialect;
  }

  Dialect dialect() {
    return dialect;
  }

  String text() {
    return text.toString();
  }

  /** Goes on with this. */
  public Condition sql(String more) {
    text.append(more);
    return this;
  }

  /** The same with a parameter in it. */
  public Condition sql(String more, String value) {
    parameters.add((statement, index) -> statement.setString(index, value));
    return sql(more);
  }

  /** The same with a parameter in it. */
  public Condition sql(String more, long value) {
    parameters.add((statement, index) -> statement.setLong(index, value));
    return sql(more);
  }

  /** The expression equals one of the values. */
  public Condition in(String expression, Collection<String> values) {
    return list(dialect.in(expression), values);
  }

  /** The same with a list as its parameter. */
  public Condition list(String more, Collection<String> values) {
    parameters.add((statement, index) -> dialect.bindList(statement, index, values));
    return sql(more);
  }

  Condition append(Condition other) {
    parameters.addAll(other.parameters);
    return sql(other.text());
  }

  /** Binds all parameters, on which it depends how the rows are best found. */
  void bind(PreparedStatement statement) throws SQLException {
    dialect.planForValues(statement);
    for (int i = 0; i < parameters.size(); i++) {
      parameters.get(i).bind(statement, i + 1);
    }
  }
}
