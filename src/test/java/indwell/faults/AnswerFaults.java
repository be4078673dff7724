package indwell.faults;

import indwell.port.ClinicalStore;
import java.io.BufferedReader;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;

/**
 * The process that answers ends: at the points between a row and its answer, and at any moment.
 * Every answer that has come whole must have its row.
 */
final class AnswerFaults {
  private static final int[] HITS = {1, 2, 7, 40};
  private static final int LONGEST_MILLISECONDS = 1_000;

  private AnswerFaults() {}

  static void run(long seed, int rounds, Consumer<Scenario.Line> tell) throws Exception {
    for (String kind : Place.KINDS) {
      for (Point point : Point.ofAnswers()) {
        Aftermath all = Aftermath.NONE;
        for (int hit : HITS) {
          all = all.plus(endingAt(kind, point, hit));
        }
        tell.accept(new Scenario.Line(kind, "killed at " + point, HITS.length, all));
      }
      Random random = new Random(seed);
      int times = Math.max(1, rounds / 10);
      Aftermath all = Aftermath.NONE;
      for (int i = 0; i < times; i++) {
        all = all.plus(killedAfter(kind, random.nextInt(LONGEST_MILLISECONDS)));
      }
      tell.accept(new Scenario.Line(kind, "killed while it answers", times, all));
    }
  }

  /** Ending itself when it reaches the point for the nth time. */
  static Aftermath endingAt(String kind, Point point, int times) throws Exception {
    return once(kind, Map.of("end", point.name(), "times", Integer.toString(times)), victim -> {});
  }

  private static Aftermath killedAfter(String kind, long milliseconds) throws Exception {
    return once(kind, Map.of(), killing(milliseconds));
  }

  /** Of a process that keeps no trail and is killed. */
  static Aftermath withoutTrail(String kind, long milliseconds) throws Exception {
    return once(kind, Map.of("rows", "none"), killing(milliseconds));
  }

  /** As {@code kill -9}. */
  private static Consumer<Process> killing(long milliseconds) {
    return victim -> {
      try {
        TimeUnit.MILLISECONDS.sleep(milliseconds);
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      }
      victim.toHandle().destroyForcibly();
    };
  }

  private static Aftermath once(String kind, Map<String, String> more, Consumer<Process> ending)
      throws Exception {
    try (Place place = Place.of(kind)) {
      Map<String, String> options = new TreeMap<>(more);
      options.put("kind", kind);
      options.put("where", place.where());
      Process victim = Lives.begin(AnswerVictim.class, options);
      try (BufferedReader said = victim.inputReader()) {
        Readers readers = new Readers(said.readLine()).start();
        if (!more.containsKey("end")) {
          readers.awaitFirst();
        }
        ending.accept(victim);
        readers.join();
        victim.waitFor();
        try (ClinicalStore store = Victim.open(kind, place.where())) {
          int answers = readers.answers();
          return new Aftermath(answers, answers, 0, 0, 0, 0, 0, readers.withoutRow(store), 0);
        }
      } finally {
        victim.destroyForcibly();
      }
    }
  }
}
