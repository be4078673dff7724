package indwell.faults;

import indwell.port.ClinicalStore;
import java.time.Duration;
import java.time.Instant;
import java.util.Random;
import java.util.function.Consumer;
import java.util.function.Supplier;

/** The clock of the machine is put forward and back by up to three weeks while events come in. */
final class ClockFaults {
  private static final Duration MOST = Duration.ofDays(21);
  private static final int ONE_IN = 25;
  private static final int ENOUGH = 150;

  private ClockFaults() {}

  static void run(long seed, int rounds, Consumer<Scenario.Line> tell) throws Exception {
    int times = Math.max(1, rounds / 20);
    for (String kind : Place.KINDS) {
      Aftermath all = Aftermath.NONE;
      for (int i = 0; i < times; i++) {
        all = all.plus(once(kind, seed + 7000 + i));
      }
      tell.accept(new Scenario.Line(kind, "clock put forward and back", times, all));
    }
  }

  static Aftermath once(String kind, long seed) throws Exception {
    try (Place place = Place.of(kind);
        ClinicalStore store = Victim.open(kind, place.where())) {
      Round round = place.round(seed);
      Sender sender = new Sender(store, seed, clock(seed), point -> {}, round::kept).start();
      while (round.acknowledged() < ENOUGH) {
        Thread.sleep(10);
      }
      sender.stop();
      return round.aftermath(store);
    }
  }

  /** Never before what the stories tell of: that would be refused as not having happened yet. */
  private static Supplier<Instant> clock(long seed) {
    Random random = new Random(seed);
    Instant middle = Story.NOW.plus(MOST);
    Instant[] now = {middle};
    return () -> {
      synchronized (random) {
        boolean steps = random.nextInt(ONE_IN) == 0;
        long most = MOST.toMillis();
        now[0] = steps ? middle.plusMillis(random.nextLong(-most, most)) : now[0].plusMillis(3);
        return now[0];
      }
    };
  }
}
