package indwell.faults;

import indwell.contract.TestPostgres;
import indwell.port.ClinicalStore;
import java.util.Random;
import java.util.function.Consumer;

/**
 * The database server ends under load and comes back, the service goes on. Callers send what was
 * not answered as kept once more.
 */
final class ServerFaults {
  private static final int SHORTEST_MILLISECONDS = 100;
  private static final int LONGEST_MILLISECONDS = 1_000;

  private ServerFaults() {}

  /** What can end it. */
  private enum How {
    KILLED,
    STOPPED,
    STOPPED_AT_ONCE,
    SESSION_KILLED;

    void happen(TestPostgres server) throws Exception {
      switch (this) {
        case KILLED -> server.kill();
        case STOPPED -> server.stop();
        case STOPPED_AT_ONCE -> server.stopAtOnce();
        case SESSION_KILLED -> server.killASession();
      }
    }
  }

  static void run(long seed, int rounds, Consumer<Scenario.Line> tell) throws Exception {
    int each = Math.max(1, rounds / 20);
    for (How how : How.values()) {
      try (TestPostgres server = TestPostgres.start()) {
        String name = "server " + how.name().toLowerCase(java.util.Locale.ROOT).replace('_', ' ');
        Aftermath all = round(server, how, seed + 5000 + how.ordinal(), each);
        tell.accept(new Scenario.Line("postgresql", name, each, all));
      }
    }
  }

  static Aftermath once(long seed) throws Exception {
    try (TestPostgres server = TestPostgres.start()) {
      return round(server, How.KILLED, seed, 1);
    }
  }

  private static Aftermath round(TestPostgres server, How how, long seed, int times)
      throws Exception {
    Random random = new Random(seed);
    String url = server.createDatabase();
    Round round = new Round("postgresql", url, seed);
    try (ClinicalStore store = Victim.open("postgresql", url)) {
      Sender sender = new Sender(store, seed, () -> Story.NOW, point -> {}, round::kept);
      sender.start();
      for (int i = 0; i < times; i++) {
        Thread.sleep(SHORTEST_MILLISECONDS + random.nextInt(LONGEST_MILLISECONDS));
        int before = round.acknowledged();
        how.happen(server);
        server.resume();
        // It has to go on by itself.
        while (round.acknowledged() <= before + 5) {
          Thread.sleep(10);
        }
      }
      sender.stop();
      return round.aftermath(store);
    }
  }
}
