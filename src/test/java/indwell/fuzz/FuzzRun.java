package indwell.fuzz;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.TimeUnit;

/**
 * Coverage-guided fuzzing of one way in after the other, each by a process of Jazzer's that begins
 * with our corpus. Ends with 1 when something was found; what was found is below {@code
 * target/fuzz} and belongs into the corpus once it is mended.
 *
 * <p>Properties: {@code fuzz.runs} inputs a way in (less where one is dear), {@code fuzz.seconds}
 * for each at most, {@code fuzz.seed}, {@code fuzz.targets} names with commas between.
 */
public final class FuzzRun {
  private static final Path FOLDER = Path.of("target/fuzz");
  private static final String REQUEST_FORGERY =
      "com.code_intelligence.jazzer.sanitizers.ServerSideRequestForgery";

  /** Starting, and the corpus once, on a busy machine. */
  private static final long START_SECONDS = 300;

  private FuzzRun() {}

  public static void main(String[] ignored) throws Exception {
    List<String> table = new ArrayList<>();
    boolean found = false;
    for (Targets targets : chosen()) {
      int exit = run(targets);
      found |= exit != 0;
      if (exit != 0) {
        System.out.println(Files.readString(log(targets)));
      }
      table.add(row(targets, exit));
    }
    System.out.println("way in         exit  dearest input, ms of processor time a kilobyte begun");
    table.forEach(System.out::println);
    System.exit(found ? 1 : 0);
  }

  private static List<Targets> chosen() {
    String names = System.getProperty("fuzz.targets", "");
    return names.isBlank()
        ? List.of(Targets.values())
        : Arrays.stream(names.split(","))
            .map(name -> Targets.valueOf(name.trim().toUpperCase(Locale.ROOT)))
            .toList();
  }

  private static int run(Targets targets) throws IOException, InterruptedException {
    Path grown = Files.createDirectories(FOLDER.resolve(targets.title()).resolve("grown"));
    Path found = Files.createDirectories(FOLDER.resolve(targets.title()).resolve("found"));
    long runs = Math.max(1, Long.getLong("fuzz.runs", 2_000) / targets.dearness());
    long seconds = Long.getLong("fuzz.seconds", 600);
    List<String> command =
        List.of(
            Path.of(System.getProperty("java.home"), "bin", "java").toString(),
            "-Xmx1500m",
            "-XX:+UseSerialGC",
            "-Duser.timezone=UTC",
            "-Djava.util.logging.manager=org.jboss.logmanager.LogManager",
            "-Dfuzz.target=" + targets.title(),
            "-Dfuzz.cost=" + cost(targets),
            "-cp",
            System.getProperty("java.class.path"),
            "com.code_intelligence.jazzer.Jazzer",
            "--target_class=" + Fuzzed.class.getName(),
            "--instrumentation_includes=indwell.**",
            // Hooks in other people's classes keep some of them from being loaded.
            "--custom_hook_excludes=**",
            // The tokens' issuer runs on this machine, and is asked for its keys.
            "--disabled_hooks=" + (targets == Targets.TOKENS ? REQUEST_FORGERY : ""),
            "--reproducer_path=" + found,
            "-artifact_prefix=" + found + "/",
            "-runs=" + runs,
            "-max_total_time=" + seconds,
            "-seed=" + Long.getLong("fuzz.seed", 1),
            "-max_len=4096",
            // By the clock, which says little on a busy machine: for what never ends alone.
            "-timeout=300",
            "-rss_limit_mb=4096",
            "-print_final_stats=1",
            grown.toString(),
            targets.folder().toString());
    System.out.println("== " + targets.title() + ", " + runs + " inputs");
    Process process =
        new ProcessBuilder(command)
            .redirectErrorStream(true)
            .redirectOutput(log(targets).toFile())
            .start();
    if (!process.waitFor(seconds + START_SECONDS, TimeUnit.SECONDS)) {
      process.destroyForcibly();
    }
    return process.waitFor();
  }

  private static Path log(Targets targets) {
    return FOLDER.resolve(targets.title()).resolve("log.txt");
  }

  private static Path cost(Targets targets) {
    return FOLDER.resolve(targets.title()).resolve("cost.txt");
  }

  private static String row(Targets targets, int exit) throws IOException {
    Path cost = cost(targets);
    double millis = Files.exists(cost) ? Long.parseLong(Files.readString(cost)) / 1e3 : Double.NaN;
    return "%-14s %4d  %.1f".formatted(targets.title(), exit, millis);
  }
}
