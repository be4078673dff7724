package indwell.fuzz;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;

/**
 * What Jazzer calls, in a process of its own for each way in. Property {@code fuzz.target} names
 * it; {@code fuzz.cost} is the file that is told the dearest input.
 */
public final class Fuzzed {
  /**
   * This process is instrumented, has just begun, and makes several calls of one input. What it
   * fails at is work without measure; what an input costs is printed.
   */
  private static final int SLACK = 40;

  private static final Path COST = Path.of(System.getProperty("fuzz.cost"));
  private static CpuWatch watch;
  private static long dearest;

  private Fuzzed() {}

  /** Opens the way in. */
  public static void fuzzerInitialize() {
    watch =
        new CpuWatch(
            Targets.valueOf(System.getProperty("fuzz.target").toUpperCase(Locale.ROOT)).open());
  }

  /** Takes one input; whatever is thrown is a finding. */
  public static void fuzzerTestOneInput(byte[] input) {
    long micros = watch.take(input);
    if (micros > dearest) {
      dearest = micros;
      tell(input);
    }
    Oracle.require(
        micros <= SLACK * CpuWatch.MOST_MILLIS * 1_000,
        micros + " microseconds of processor time for each kilobyte begun");
  }

  private static void tell(byte[] input) {
    try {
      Files.writeString(COST, Long.toString(dearest));
      Files.write(Path.of(COST + ".input"), input);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
