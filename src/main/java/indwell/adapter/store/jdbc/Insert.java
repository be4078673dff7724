package indwell.adapter.store.jdbc;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.Collection;
import java.util.List;
import java.util.function.Function;
import java.util.function.ToLongFunction;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * How items become rows of a table: which column takes what of an item.
 *
 * @param <T> what an item is
 */
public final class Insert<T> {
  /** What the expressions of {@link Computed} call the row. */
  public static final String ROW = "n";

  private final String table;
  private final List<Value<T>> values;
  private final List<Computed> computed;

  private Insert(String table, List<Value<T>> values, List<Computed> computed) {
    this.table = table;
    this.values = values;
    this.computed = computed;
  }

  /** A column that takes something of an item. */
  public sealed interface Value<T> {
    /** The name of the column. */
    String column();
  }

  /**
   * A column of texts, or of what the database makes of them.
   *
   * @param conversion in SQL, behind the text; empty where it stays a text
   */
  public record Text<T>(String column, String conversion, Function<? super T, String> of)
      implements Value<T> {}

  /** A column of whole numbers, of whatever size. */
  public record Whole<T>(String column, ToLongFunction<? super T> of) implements Value<T> {}

  /** A column that the database works out from the others of the same row. */
  private record Computed(String column, String expression) {}

  /**
   * Rows that are to be added.
   *
   * @param items each makes one
   */
  public record Rows<T>(Insert<T> table, Collection<T> items) {
    /** One after the other. */
    void oneByOne(Connection connection) throws SQLException {
      table.oneByOne(connection, items);
    }
  }

  /** Rows of this table, without columns yet. */
  public static <T> Insert<T> into(String table) {
    return new Insert<>(table, List.of(), List.of());
  }

  /** With a column of texts. */
  public Insert<T> text(String column, Function<? super T, String> of) {
    return with(new Text<>(column, "", of));
  }

  /**
   * With a column of another type, whose values the database makes of texts.
   *
   * @param type in SQL
   */
  public Insert<T> converted(String column, String type, Function<? super T, String> of) {
    return with(new Text<>(column, "::" + type, of));
  }

  /** With a column of whole numbers. */
  public Insert<T> number(String column, ToLongFunction<? super T> of) {
    return with(new Whole<>(column, of));
  }

  /**
   * With a column that the database works out.
   *
   * @param expression in SQL; the row with the other columns is called {@link #ROW}
   */
  Insert<T> computed(String column, String expression) {
    return new Insert<>(table, values, plus(computed, new Computed(column, expression)));
  }

  private Insert<T> with(Value<T> value) {
    return new Insert<>(table, plus(values, value), computed);
  }

  private static <E> List<E> plus(List<E> all, E one) {
    return Stream.concat(all.stream(), Stream.of(one)).toList();
  }

  /** A row for each item. */
  public Rows<T> rows(Collection<T> items) {
    return new Rows<>(this, items);
  }

  /** The columns that take something of an item, in the order of the parameters. */
  public List<Value<T>> values() {
    return values;
  }

  /**
   * The statement for rows that the database is given in its own way.
   *
   * @param source what stands behind FROM and gives the columns of {@link #values} by the name
   *     {@link #ROW}
   */
  public String from(String source) {
    Stream<String> columns = Stream.concat(columns(), computed.stream().map(Computed::column));
    Stream<String> expressions =
        Stream.concat(
            values.stream().map(Insert::expression), computed.stream().map(Computed::expression));
    return "INSERT INTO "
        + table
        + columns.collect(Collectors.joining(", ", " (", ")"))
        + expressions.collect(Collectors.joining(", ", " SELECT ", " FROM "))
        + source;
  }

  private static String expression(Value<?> value) {
    String conversion = value instanceof Text<?> text ? text.conversion() : "";
    return ROW + "." + value.column() + conversion;
  }

  /** The names of the columns of {@link #values}. */
  public Stream<String> columns() {
    return values.stream().map(Value::column);
  }

  private void oneByOne(Connection connection, Collection<T> items) throws SQLException {
    String row = columns().map(column -> "? AS " + column).collect(Collectors.joining(", "));
    try (PreparedStatement statement =
        connection.prepareStatement(from("(SELECT " + row + ") AS " + ROW))) {
      for (T item : items) {
        bind(statement, item);
        statement.addBatch();
      }
      statement.executeBatch();
    }
  }

  private void bind(PreparedStatement statement, T item) throws SQLException {
    int index = 1;
    for (Value<T> value : values) {
      if (value instanceof Text<T> text) {
        statement.setString(index, text.of().apply(item));
      } else if (value instanceof Whole<T> number) {
        statement.setLong(index, number.of().applyAsLong(item));
      }
      index++;
    }
  }
}
