package indwell.faults;

import java.io.IOException;
import java.util.Random;
import java.util.function.Consumer;

/** The process ends: at each named point, at any moment, and as one of two on one database. */
final class Kills {
  private static final int[] HITS = {1, 2, 7, 40};
  private static final int LONGEST_MILLISECONDS = 1_500;

  private Kills() {}

  static void atPoints(long seed, int rounds, Consumer<Scenario.Line> tell) throws Exception {
    for (String kind : Place.KINDS) {
      for (Point point : Point.ofIntake()) {
        Aftermath all = Aftermath.NONE;
        for (int hit : HITS) {
          try (Place place = Place.of(kind)) {
            all = all.plus(place.round(seed + hit).endingAt(point, hit));
          }
        }
        tell.accept(new Scenario.Line(kind, "killed at " + point, HITS.length, all));
      }
    }
  }

  static void atRandom(long seed, int rounds, Consumer<Scenario.Line> tell) throws Exception {
    for (String kind : Place.KINDS) {
      Random random = new Random(seed);
      Aftermath all = Aftermath.NONE;
      for (int i = 0; i < rounds / 2; i++) {
        try (Place place = Place.of(kind)) {
          long after = random.nextInt(LONGEST_MILLISECONDS);
          all = all.plus(place.round(seed + 1000 + i).killedAfter(after));
        }
      }
      tell.accept(new Scenario.Line(kind, "killed at random", rounds / 2, all));
    }
  }

  static void ofReplicas(long seed, int rounds, Consumer<Scenario.Line> tell)
      throws IOException, InterruptedException {
    Random random = new Random(seed);
    Aftermath all = Aftermath.NONE;
    int times = Math.max(1, rounds / 10);
    for (int i = 0; i < times; i++) {
      try (Place place = Place.of("postgresql")) {
        Round round = place.round(seed + 3000 + i);
        all = all.plus(round.oneAfterTheOther(random.nextInt(LONGEST_MILLISECONDS), 700));
      }
    }
    tell.accept(new Scenario.Line("postgresql", "one of two replicas killed", times, all));
  }
}
