package indwell.fuzz;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/** Prints what the dearest files of the corpus cost, in processor time a kilobyte begun. */
public final class CorpusCost {
  private static final int SHOWN = 3;
  private static final int WARM = 200;

  private record Cost(Path file, long micros) {}

  private CorpusCost() {}

  /**
   * @param names of ways in; none for all
   */
  public static void main(String[] names) throws Exception {
    List<String> chosen = List.of(names);
    for (Targets targets : Targets.values()) {
      if (chosen.isEmpty() || chosen.contains(targets.title())) {
        print(targets);
      }
    }
    System.exit(0);
  }

  private static void print(Targets targets) throws IOException {
    Target target = targets.open();
    CpuWatch watch = new CpuWatch(target);
    List<Path> files = targets.corpus();
    for (int i = 0; i < WARM; i++) {
      target.take(Files.readAllBytes(files.get(i % files.size())));
    }
    List<Cost> costs = new ArrayList<>();
    for (Path file : files) {
      costs.add(new Cost(file, watch.take(Files.readAllBytes(file))));
    }
    costs.sort(Comparator.comparingLong(Cost::micros).reversed());
    for (Cost cost : costs.subList(0, Math.min(SHOWN, costs.size()))) {
      System.out.printf(
          "%-14s %7.1f ms  %s%n", targets.title(), cost.micros() / 1e3, cost.file().getFileName());
    }
  }
}
