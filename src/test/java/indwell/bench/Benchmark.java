package indwell.bench;

import indwell.boot.Validators;
import indwell.port.ProfileValidator;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.jboss.logmanager.Level;
import org.jboss.logmanager.LogContext;

/**
 * Runs the comparisons and prints them as a table: {@code mvn -Pbench verify}. With names of
 * sections as arguments, only those: {@code validation}, {@code intake}, {@code questions}, {@code
 * export}, {@code audit}, {@code pages}, {@code start}.
 */
public final class Benchmark {
  private Benchmark() {}

  public static void main(String[] names) throws Exception {
    Set<String> asked = Set.of(names);
    // As in the service: without this each trace message of the libraries is written out.
    LogContext.getLogContext().getLogger("").setLevel(Level.INFO);
    ProfileValidator pooled = Validators.warm();
    List<Row> rows = new ArrayList<>();
    if (asked.isEmpty() || asked.contains("validation")) {
      rows.addAll(new ValidationBench(pooled).rows(Integer.getInteger("bench.equal", 20_000)));
    }
    if (asked.isEmpty() || asked.contains("intake")) {
      try (IntakeBench intake = new IntakeBench(pooled)) {
        rows.addAll(intake.rows(Integer.getInteger("bench.episodes", 500)));
      }
    }
    if (asked.isEmpty() || asked.contains("questions")) {
      rows.addAll(
          new QuestionBench(Integer.getInteger("bench.history", 100_000))
              .rows(Integer.getInteger("bench.sample", 2 * House.PERIOD)));
    }
    if (asked.isEmpty() || asked.contains("export")) {
      rows.addAll(
          new ExportBench()
              .rows(
                  Integer.getInteger("bench.exported", 1_000),
                  Integer.getInteger("bench.resources", 100_000)));
    }
    if (asked.isEmpty() || asked.contains("audit")) {
      rows.addAll(new AuditedReadBench().rows());
    }
    if (asked.isEmpty() || asked.contains("pages")) {
      rows.addAll(new PageBench().rows());
    }
    if (asked.isEmpty() || asked.contains("start")) {
      rows.addAll(new StartBench().rows());
    }
    System.out.println("| what | ours | against | reference | ratio | goal |");
    System.out.println("|---|---|---|---|---|---|");
    rows.forEach(row -> System.out.println(row.line()));
    System.exit(0);
  }
}
