package indwell.faults;

import indwell.faults.Scenario.Line;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * Ends the service, its database and what else it leans on, at named points and at random, and
 * prints what was acknowledged, found, duplicated and lost. Options: {@code -Dfaults.rounds=200}
 * random kills altogether, and in proportion of everything else; {@code -Dfaults.seed=1}; {@code
 * -Dfaults.only=points,disk} for some of them.
 */
public final class FaultHarness {
  private static final Map<String, Scenario> SCENARIOS = new LinkedHashMap<>();

  static {
    SCENARIOS.put("points", Kills::atPoints);
    SCENARIOS.put("random", Kills::atRandom);
    SCENARIOS.put("replicas", Kills::ofReplicas);
    SCENARIOS.put("server", ServerFaults::run);
    SCENARIOS.put("disk", DiskFaults::run);
    SCENARIOS.put("clock", ClockFaults::run);
    SCENARIOS.put("publishing", PublishingFaults::run);
    SCENARIOS.put("answers", AnswerFaults::run);
  }

  private FaultHarness() {}

  /** Exits with 1 when anything was lost, duplicated or differs. */
  public static void main(String[] none) throws Exception {
    long seed = Long.getLong("faults.seed", 1);
    int rounds = Integer.getInteger("faults.rounds", 200);
    String only = System.getProperty("faults.only", "");
    Set<String> names = only.isEmpty() ? SCENARIOS.keySet() : Set.of(only.split(","));
    if (!SCENARIOS.keySet().containsAll(names)) {
      throw new IllegalArgumentException("faults.only: expected some of " + SCENARIOS.keySet());
    }
    List<Line> lines = new ArrayList<>();
    for (Map.Entry<String, Scenario> scenario : SCENARIOS.entrySet()) {
      if (names.contains(scenario.getKey())) {
        scenario
            .getValue()
            .run(
                seed,
                rounds,
                line -> {
                  lines.add(line);
                  System.err.println(line);
                });
      }
    }
    System.out.println(Line.HEADER);
    System.out.println(Line.HEADER.replaceAll("[^|]+", "---"));
    lines.forEach(System.out::println);
    System.exit(lines.stream().allMatch(line -> line.all().sound()) ? 0 : 1);
  }
}
