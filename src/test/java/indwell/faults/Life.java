package indwell.faults;

import indwell.domain.event.EventKey;
import java.io.BufferedReader;
import java.io.IOException;
import java.util.Map;
import java.util.Set;

/** The process of a {@link Victim}, and what it said. */
final class Life implements AutoCloseable {
  private final Process process;
  private final BufferedReader said;
  private final Set<Aftermath.Kept> acknowledged;

  private Life(Process process, Set<Aftermath.Kept> acknowledged) {
    this.process = process;
    this.said = process.inputReader();
    this.acknowledged = acknowledged;
  }

  /**
   * Begins one.
   *
   * @param options of the {@link Victim}
   * @param acknowledged gets what it says to be kept, as far as that is heard
   */
  static Life begin(Map<String, String> options, Set<Aftermath.Kept> acknowledged)
      throws IOException {
    return new Life(Lives.begin(Victim.class, options), acknowledged);
  }

  /** Waits for the first answer; false when it ended before. */
  boolean awaitFirst() throws IOException {
    return hear(said.readLine());
  }

  /** Listens until it ends; its exit code. */
  int awaitEnd() throws IOException, InterruptedException {
    boolean more = true;
    while (more) {
      more = hear(said.readLine());
    }
    return process.waitFor();
  }

  /** Ends it at once, as {@code kill -9} does; what it had said is heard. */
  void kill() throws IOException, InterruptedException {
    process.toHandle().destroyForcibly();
    int unused = awaitEnd();
  }

  /** A line that was cut off in the middle says nothing. */
  private boolean hear(String line) {
    if (line == null) {
      return false;
    }
    String[] words = line.split(" ");
    if (words.length == 4 && words[0].equals("kept") && words[3].matches("[123]")) {
      acknowledged.add(
          new Aftermath.Kept(new EventKey(words[1], words[2]), Integer.parseInt(words[3])));
    }
    return true;
  }

  @Override
  public void close() {
    process.destroyForcibly();
  }
}
