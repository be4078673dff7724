package indwell.faults;

import indwell.adapter.store.jdbc.JdbcStore;
import indwell.adapter.store.postgres.PostgresStore;
import indwell.adapter.store.sqlite.SqliteStore;
import indwell.contract.TestPostgres;
import indwell.usecase.publish.Bench;
import java.nio.file.Path;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Consumer;

/**
 * A process that takes events and says of each, after its answer, that it is kept; with a hospital
 * it publishes, too. It is there to be killed, or ends itself at a named point as if it were.
 */
final class Victim {
  private Victim() {}

  /**
   * @param args {@code kind=sqlite|postgresql}, {@code where=} folder or URL, {@code seed=}; {@code
   *     hospital=} the address to publish to; {@code end=} a {@link Point} and {@code times=} how
   *     often that is to be reached
   */
  public static void main(String[] args) throws InterruptedException {
    Map<String, String> options = options(args);
    Consumer<Point> reached = ending(options);
    JdbcStore store = open(options.get("kind"), options.get("where"));
    if (options.containsKey("hospital")) {
      Bench.publisher(
              store,
              options.get("hospital"),
              upstream -> new FallingUpstream(upstream, reached),
              Long.toString(ProcessHandle.current().pid()))
          .start();
    }
    new Sender(
            new FallingStore(store, reached),
            Long.parseLong(options.get("seed")),
            () -> Story.NOW,
            reached,
            Victim::say)
        .start()
        .join();
  }

  /** Words as {@code name=value}. */
  static Map<String, String> options(String[] args) {
    Map<String, String> options = new TreeMap<>();
    for (String arg : args) {
      options.put(arg.substring(0, arg.indexOf('=')), arg.substring(arg.indexOf('=') + 1));
    }
    return options;
  }

  static JdbcStore open(String kind, String where) {
    return kind.equals("sqlite")
        ? SqliteStore.open(Path.of(where))
        : PostgresStore.open(where, TestPostgres.USER, TestPostgres.PASSWORD);
  }

  private static void say(Aftermath.Kept one) {
    System.out.println(
        "kept %s %s %d".formatted(one.key().source(), one.key().eventId(), one.version()));
  }

  /** As {@code kill -9}: no hook runs and no lock is let go in order. */
  static Consumer<Point> ending(Map<String, String> options) {
    if (!options.containsKey("end")) {
      return any -> {};
    }
    Point at = Point.valueOf(options.get("end"));
    AtomicInteger left = new AtomicInteger(Integer.parseInt(options.get("times")));
    return point -> {
      if (point == at && left.decrementAndGet() == 0) {
        Runtime.getRuntime().halt(137);
      }
    };
  }
}
