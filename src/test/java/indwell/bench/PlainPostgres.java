package indwell.bench;

import indwell.contract.TestPostgres;
import java.io.IOException;
import java.io.StringReader;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import org.postgresql.PGConnection;

/** What the server does by itself with the same bytes: the references of the comparisons. */
final class PlainPostgres {
  private final String url;
  private final ThreadLocal<Connection> own = ThreadLocal.withInitial(this::open);

  PlainPostgres(String url) {
    this.url = url;
  }

  String url() {
    return url;
  }

  Connection open() {
    try {
      return DriverManager.getConnection(url, TestPostgres.USER, TestPostgres.PASSWORD);
    } catch (SQLException e) {
      throw new IllegalStateException(e);
    }
  }

  void run(String sql) {
    try (Connection connection = open();
        Statement statement = connection.createStatement()) {
      statement.execute(sql);
    } catch (SQLException e) {
      throw new IllegalStateException(e);
    }
  }

  long count(String table) {
    return number("SELECT count(*) FROM " + table);
  }

  long number(String sql) {
    try (Connection connection = open();
        Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery(sql)) {
      rows.next();
      return rows.getLong(1);
    } catch (SQLException e) {
      throw new IllegalStateException(e);
    }
  }

  /** The resources written after so many others. */
  List<byte[]> resourcesAfter(long others) {
    List<byte[]> all = new ArrayList<>();
    try (Connection connection = open();
        PreparedStatement statement =
            connection.prepareStatement("SELECT json FROM resource ORDER BY change OFFSET ?")) {
      statement.setLong(1, others);
      try (ResultSet rows = statement.executeQuery()) {
        while (rows.next()) {
          all.add(rows.getString(1).getBytes(StandardCharsets.UTF_8));
        }
      }
      return all;
    } catch (SQLException e) {
      throw new IllegalStateException(e);
    }
  }

  /** Copies the resources into a logged table with the index that any store of them needs. */
  void copyIn(List<byte[]> resources) {
    run(
        "CREATE TABLE plain (change BIGINT PRIMARY KEY, reference TEXT NOT NULL, json TEXT NOT NULL)");
    run("CREATE UNIQUE INDEX plain_reference ON plain (reference)");
    StringBuilder rows = new StringBuilder();
    for (int i = 0; i < resources.size(); i++) {
      String json = new String(resources.get(i), StandardCharsets.UTF_8);
      rows.append(i).append("\tType/").append(i).append('\t');
      rows.append(json.replace("\\", "\\\\")).append('\n');
    }
    try (Connection connection = open()) {
      connection
          .unwrap(PGConnection.class)
          .getCopyAPI()
          .copyIn("COPY plain FROM STDIN", new StringReader(rows.toString()));
    } catch (SQLException | IOException e) {
      throw new IllegalStateException(e);
    }
  }

  /** Streams all newest resources out, as one statement does it. */
  long copyOut() {
    Counting out = new Counting();
    copyOut("COPY (SELECT json FROM resource WHERE newest = 1) TO STDOUT", out);
    return out.characters;
  }

  void copyOut(String copy, Writer out) {
    try (Connection connection = open()) {
      connection.unwrap(PGConnection.class).getCopyAPI().copyOut(copy, out);
    } catch (SQLException | IOException e) {
      throw new IllegalStateException(e);
    }
  }

  /** The first column of a query. */
  List<String> texts(String sql) {
    List<String> texts = new ArrayList<>();
    try (Connection connection = open();
        Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery(sql)) {
      while (rows.next()) {
        texts.add(rows.getString(1));
      }
      return texts;
    } catch (SQLException e) {
      throw new IllegalStateException(e);
    }
  }

  /** Takes the indexes of a table away for the work and makes them again. */
  void withoutIndexes(String table, Runnable work) {
    List<String> keys =
        texts(
            "SELECT conname || ' ' || pg_get_constraintdef(oid) FROM pg_constraint"
                + " WHERE conrelid = '"
                + table
                + "'::regclass AND contype = 'p'");
    keys.forEach(key -> run("ALTER TABLE " + table + " DROP CONSTRAINT " + key.split(" ")[0]));
    List<String> indexes =
        texts("SELECT indexdef FROM pg_indexes WHERE tablename = '" + table + "'");
    indexes.forEach(index -> run("DROP INDEX " + index.split(" INDEX ")[1].split(" ")[0]));
    work.run();
    keys.forEach(key -> run("ALTER TABLE " + table + " ADD CONSTRAINT " + key));
    indexes.forEach(this::run);
  }

  private static final class Counting extends Writer {
    private long characters;

    @Override
    public void write(char[] buffer, int offset, int length) {
      characters += length;
    }

    @Override
    public void flush() {}

    @Override
    public void close() {}
  }

  void prepareCommits() {
    run("CREATE TABLE commits (id INTEGER PRIMARY KEY, body TEXT NOT NULL)");
  }

  /** One row, one commit, on a connection of the thread. */
  void commitOne(int id) {
    try (PreparedStatement statement =
        own.get().prepareStatement("INSERT INTO commits VALUES (?, 'x')")) {
      statement.setInt(1, id);
      statement.executeUpdate();
    } catch (SQLException e) {
      throw new IllegalStateException(e);
    }
  }
}
