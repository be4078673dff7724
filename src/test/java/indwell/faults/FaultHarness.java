package indwell.faults;

import indwell.contract.Folders;
import indwell.contract.TestPostgres;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/**
 * Ends the taking of events at every named point and at random times, on both databases, and prints
 * what was acknowledged, found, duplicated and lost. Options: {@code -Dfaults.rounds=200} random
 * kills altogether, {@code -Dfaults.seed=1}.
 */
public final class FaultHarness {
  private static final int[] HITS = {1, 2, 7, 40};
  private static final int LONGEST_MILLISECONDS = 1_500;

  private final long seed = Long.getLong("faults.seed", 1);
  private final List<String> lines = new ArrayList<>();
  private boolean sound = true;

  private FaultHarness() {}

  /** Exits with 1 when anything was lost, duplicated or differs. */
  public static void main(String[] none) throws Exception {
    FaultHarness harness = new FaultHarness();
    for (String kind : List.of("sqlite", "postgresql")) {
      harness.sweep(kind);
      harness.random(kind, Integer.getInteger("faults.rounds", 200) / 2);
    }
    System.out.println(
        "| database | ended | times | acknowledged | found | lost | duplicated | other than replayed | not taken again |");
    System.out.println("|---|---|---|---|---|---|---|---|---|");
    harness.lines.forEach(System.out::println);
    System.exit(harness.sound ? 0 : 1);
  }

  private void sweep(String kind) throws Exception {
    for (Point point : Point.values()) {
      Aftermath all = Aftermath.NONE;
      for (int hit : HITS) {
        String where = place(kind);
        all = all.plus(new Round(kind, where, seed + hit).endingAt(point, hit));
        leave(kind, where);
      }
      tell(kind, "at " + point, HITS.length, all);
    }
  }

  private void random(String kind, int rounds) throws Exception {
    Random random = new Random(seed);
    Aftermath all = Aftermath.NONE;
    for (int round = 0; round < rounds; round++) {
      String where = place(kind);
      long after = random.nextInt(LONGEST_MILLISECONDS);
      all = all.plus(new Round(kind, where, seed + 1000 + round).killedAfter(after));
      leave(kind, where);
    }
    tell(kind, "killed at random", rounds, all);
  }

  private void tell(String kind, String ended, int times, Aftermath all) {
    sound &= all.sound();
    lines.add(
        "| %s | %s | %d | %d | %d | %d | %d | %d | %d |"
            .formatted(
                kind,
                ended,
                times,
                all.acknowledged(),
                all.found(),
                all.lost(),
                all.duplicated(),
                all.differing(),
                all.refusedAgain()));
    System.err.println(lines.get(lines.size() - 1));
  }

  private static String place(String kind) throws Exception {
    return kind.equals("sqlite")
        ? Files.createTempDirectory("indwell-faults-").toString()
        : TestPostgres.newDatabase();
  }

  private static void leave(String kind, String where) throws Exception {
    if (kind.equals("sqlite")) {
      Folders.delete(Path.of(where));
    }
  }
}
