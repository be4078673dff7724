package indwell.contract;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** Starts an {@link AckingWriter} and follows what it says. */
final class KillableWriter implements AutoCloseable {
  private final Process process;
  private final BufferedReader said;
  private final int[] acknowledged = new int[AckingWriter.THREADS];
  private boolean unavailable;

  private KillableWriter(List<String> command) throws IOException {
    this.process =
        new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.INHERIT).start();
    this.said = process.inputReader();
  }

  static KillableWriter start(String kind, String where) throws IOException {
    return new KillableWriter(command(kind, where));
  }

  /**
   * The same with files limited to so many blocks of 1,024 bytes, which is to the database as if
   * the disk were full.
   */
  static KillableWriter startWithFilesUpTo(int blocks, String kind, String where)
      throws IOException {
    List<String> command =
        new ArrayList<>(List.of("bash", "-c", "ulimit -f " + blocks + "; exec \"$@\"", "bash"));
    command.addAll(command(kind, where));
    return new KillableWriter(command);
  }

  private static List<String> command(String kind, String where) {
    return List.of(
        Path.of(System.getProperty("java.home"), "bin", "java").toString(),
        "-Xmx256m",
        "-XX:+UseSerialGC",
        "-cp",
        System.getProperty("java.class.path"),
        AckingWriter.class.getName(),
        kind,
        where);
  }

  /** Waits until so many events are acknowledged, whichever threads recorded them. */
  void awaitAcknowledged(int number) throws IOException {
    while (total() < number) {
      if (!hear()) {
        throw new IllegalStateException("The writer ended after " + total() + " events.");
      }
    }
  }

  /** Ends the process at once, as {@code kill -9} does; what it had said still counts. */
  int[] kill() throws IOException, InterruptedException {
    // Killing by the process object would also throw away what was said and not yet heard.
    process.toHandle().destroyForcibly();
    return awaitEnd();
  }

  /** Waits for the writer to end by itself; the number of acknowledged events of each thread. */
  int[] awaitEnd() throws IOException, InterruptedException {
    while (hear()) {
      // Every line counts.
    }
    process.waitFor();
    return acknowledged;
  }

  /** Whether the writer ended because the store was not available. */
  boolean metUnavailable() {
    return unavailable;
  }

  @Override
  public void close() {
    process.destroyForcibly();
  }

  /** A line that was cut off in the middle acknowledges nothing. */
  private boolean hear() throws IOException {
    String line = said.readLine();
    if (line == null) {
      return false;
    }
    if (line.equals("unavailable")) {
      unavailable = true;
      return true;
    }
    for (int i = 0; i < acknowledged.length; i++) {
      if (line.equals((i + 1) + " " + (acknowledged[i] + 1))) {
        acknowledged[i]++;
      }
    }
    return true;
  }

  private int total() {
    return Arrays.stream(acknowledged).sum();
  }
}
