package indwell.contract;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;

/**
 * A PostgreSQL server for tests, with the durability that a real one has. The server refuses to run
 * as root; then it runs as the user nobody, which needs no user name space.
 */
public final class TestPostgres implements AutoCloseable {
  public static final String USER = "postgres";
  public static final String PASSWORD = "not-asked-for";

  /** The user nobody wherever Linux is; initdb wants a user that has a name. */
  private static final int UNPRIVILEGED = 65534;

  private static final Duration START = Duration.ofSeconds(60);

  /**
   * Not below {@code indwell.}, where the configuration of the service refuses what it does not
   * know.
   */
  private static final String SHARED = "tests.postgres.url";

  private static final AtomicInteger DATABASES = new AtomicInteger();

  private final Path programs;
  private final Path data;
  private final int port;
  private final List<String> settings;
  private Process server;

  private TestPostgres(Path data, List<String> settings) throws IOException, InterruptedException {
    this.settings = settings;
    this.programs = PostgresBinaries.folder().resolve("bin");
    this.data = data;
    this.port = freePort();
    if (root()) {
      Files.setAttribute(data, "unix:uid", UNPRIVILEGED);
    }
    initialise();
  }

  /** A server of one's own, which can be killed. */
  public static TestPostgres start(String... settings) {
    try {
      return startIn(Files.createTempDirectory("indwell-test-data-"), settings);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The same in a folder that is there and empty. */
  public static TestPostgres startIn(Path data, String... settings) {
    try {
      TestPostgres postgres = new TestPostgres(data, List.of(settings));
      postgres.resume();
      Runtime.getRuntime().addShutdownHook(new Thread(postgres::close));
      return postgres;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (InterruptedException e) {
      throw new IllegalStateException(e);
    }
  }

  /**
   * The URL of a new, empty database on the server that all tests of this process share. The server
   * is known by a system property, because test frameworks load classes more than once.
   */
  public static String newDatabase() {
    synchronized (System.getProperties()) {
      String url = System.getProperty(SHARED);
      if (url == null) {
        url = start().url("postgres");
        System.setProperty(SHARED, url);
      }
      return createDatabase(url);
    }
  }

  /** The JDBC URL of a database of this server. */
  public String url(String database) {
    return "jdbc:postgresql://127.0.0.1:" + port + "/" + database;
  }

  /** Makes an empty database on this server. */
  public String createDatabase() {
    return createDatabase(url("postgres"));
  }

  /** Ends the server as a power cut would, without a word to anybody. */
  public void kill() throws InterruptedException {
    server.destroyForcibly().waitFor();
  }

  /** Stops the server in order, whoever is connected. */
  public void stop() throws IOException, InterruptedException {
    signal("INT", server.pid());
    awaitStop();
  }

  /** Has the server drop everything and end, to recover at its next start. */
  public void stopAtOnce() throws IOException, InterruptedException {
    signal("QUIT", server.pid());
    awaitStop();
  }

  /** Kills the process of one connection, on which the server drops all of them and recovers. */
  public void killASession() throws IOException, InterruptedException, SQLException {
    try (Connection connection = DriverManager.getConnection(url("postgres"), USER, PASSWORD);
        Statement statement = connection.createStatement();
        ResultSet sessions =
            statement.executeQuery(
                "SELECT pid FROM pg_stat_activity WHERE backend_type = 'client backend'"
                    + " AND pid <> pg_backend_pid() ORDER BY state = 'active' DESC LIMIT 1")) {
      if (!sessions.next()) {
        throw new IllegalStateException("Nobody is connected.");
      }
      signal("KILL", sessions.getLong(1));
    }
  }

  private static void signal(String name, long process) throws IOException, InterruptedException {
    new ProcessBuilder("kill", "-" + name, Long.toString(process)).start().waitFor();
  }

  private void awaitStop() throws InterruptedException {
    if (!server.waitFor(30, TimeUnit.SECONDS)) {
      throw new IllegalStateException("The server did not stop.");
    }
  }

  /** Starts the server again after {@link #kill} or {@link #stop}. */
  public void resume() throws IOException, InterruptedException {
    long deadline = System.nanoTime() + START.toNanos();
    while (!ready()) {
      if (System.nanoTime() > deadline) {
        throw new IllegalStateException("The server did not start:\n" + log());
      }
      // After a kill the first try fails until the orphans of the old server are gone.
      if (server == null || !server.isAlive()) {
        launch();
      }
      Thread.sleep(50);
    }
  }

  @Override
  public void close() {
    try {
      server.destroyForcibly().waitFor(10, TimeUnit.SECONDS);
      Folders.delete(data);
    } catch (IOException | UncheckedIOException e) {
      // What a dying server still writes or removes stays in the temporary folder.
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private void initialise() throws IOException, InterruptedException {
    Process initdb =
        process(
                "initdb",
                "--pgdata=" + data.resolve("pg"),
                "--username=" + USER,
                "--auth=trust",
                "--encoding=UTF8",
                "--no-locale",
                "--no-sync")
            .start();
    if (initdb.waitFor() != 0) {
      throw new IllegalStateException("initdb failed:\n" + log());
    }
  }

  private void launch() throws IOException {
    List<String> arguments =
        new ArrayList<>(List.of("-D", data.resolve("pg").toString(), "-p", Integer.toString(port)));
    arguments.addAll(List.of("-k", data.toString(), "-c", "listen_addresses=127.0.0.1"));
    for (String setting : settings) {
      arguments.addAll(List.of("-c", setting));
    }
    server = process("postgres", arguments.toArray(String[]::new)).start();
  }

  private ProcessBuilder process(String program, String... arguments) {
    List<String> command = new ArrayList<>();
    if (root()) {
      command.addAll(
          List.of(
              "setpriv", "--reuid=" + UNPRIVILEGED, "--regid=" + UNPRIVILEGED, "--clear-groups"));
    }
    command.add(programs.resolve(program).toString());
    command.addAll(List.of(arguments));
    ProcessBuilder builder = new ProcessBuilder(command).directory(data.toFile());
    builder.environment().put("LC_ALL", "C");
    builder.redirectErrorStream(true);
    return builder.redirectOutput(ProcessBuilder.Redirect.appendTo(logFile().toFile()));
  }

  private boolean ready() {
    if (server == null || !server.isAlive()) {
      return false;
    }
    try (Connection connection = DriverManager.getConnection(url("postgres"), USER, PASSWORD)) {
      return connection.isValid(1);
    } catch (SQLException e) {
      return false;
    }
  }

  private Path logFile() {
    return data.resolve("log.txt");
  }

  private String log() throws IOException {
    return Files.readString(logFile());
  }

  private static String createDatabase(String serverUrl) {
    String name =
        "t"
            + ProcessHandle.current().pid()
            + "_"
            + DATABASES.incrementAndGet()
            + "_"
            + Long.toString(System.nanoTime(), 36);
    try (Connection connection = DriverManager.getConnection(serverUrl, USER, PASSWORD);
        Statement statement = connection.createStatement()) {
      statement.execute("CREATE DATABASE " + name);
    } catch (SQLException e) {
      throw new IllegalStateException(e);
    }
    return serverUrl.substring(0, serverUrl.lastIndexOf('/') + 1) + name;
  }

  private static boolean root() {
    return "root".equals(System.getProperty("user.name"));
  }

  private static int freePort() throws IOException {
    try (ServerSocket socket = new ServerSocket(0)) {
      return socket.getLocalPort();
    }
  }
}
