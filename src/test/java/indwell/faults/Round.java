package indwell.faults;

import indwell.domain.event.EventKey;
import indwell.port.ClinicalStore;
import java.io.BufferedReader;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.concurrent.TimeUnit;

/** One life and death of a {@link Victim}, and what was found afterwards. */
final class Round {
  private final String kind;
  private final String where;
  private final long seed;
  private final Set<Aftermath.Kept> acknowledged = new HashSet<>();
  private int stories;

  /**
   * @param kind {@code sqlite} or {@code postgresql}
   * @param where a new folder or the URL of a new database
   */
  Round(String kind, String where, long seed) {
    this.kind = kind;
    this.where = where;
    this.seed = seed;
  }

  /** Killed so long after its first answer. */
  Aftermath killedAfter(long milliseconds) throws IOException, InterruptedException {
    Process process = start();
    try (BufferedReader said = process.inputReader()) {
      hear(said.readLine());
      TimeUnit.MILLISECONDS.sleep(milliseconds);
      process.toHandle().destroyForcibly();
      hearTheRest(said);
    }
    process.waitFor();
    return aftermath();
  }

  /** Ending itself when it reaches the point for the nth time. */
  Aftermath endingAt(Point point, int times) throws IOException, InterruptedException {
    Process process = start(point.name(), Integer.toString(times));
    try (BufferedReader said = process.inputReader()) {
      hearTheRest(said);
    }
    if (process.waitFor() != 137) {
      throw new IllegalStateException("It did not end at " + point + " but with another code");
    }
    return aftermath();
  }

  private Process start(String... end) throws IOException {
    List<String> command =
        new ArrayList<>(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-Xmx256m",
                "-XX:+UseSerialGC",
                "-XX:TieredStopAtLevel=1",
                "-cp",
                System.getProperty("java.class.path"),
                Victim.class.getName(),
                kind,
                where,
                Long.toString(seed)));
    command.addAll(List.of(end));
    return new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.INHERIT).start();
  }

  private void hearTheRest(BufferedReader said) throws IOException {
    for (String line = said.readLine(); line != null; line = said.readLine()) {
      hear(line);
    }
  }

  /** A line that was cut off in the middle says nothing. */
  private void hear(String line) {
    String[] words = line == null ? new String[0] : line.split(" ");
    if (words.length == 4 && words[0].equals("kept") && words[3].matches("[123]")) {
      acknowledged.add(
          new Aftermath.Kept(new EventKey(words[1], words[2]), Integer.parseInt(words[3])));
      stories = Math.max(stories, Integer.parseInt(words[1].replaceFirst(".*-", "")) + 1);
    } else if (words.length > 0 && words[0].equals("failed")) {
      throw new IllegalStateException(line);
    }
  }

  private Aftermath aftermath() {
    List<String> sent = new ArrayList<>();
    // The next two may have been begun without an answer.
    for (int number = 0; number < stories + 2; number++) {
      sent.addAll(Story.of(seed, number));
    }
    try (ClinicalStore store = Victim.open(kind, where)) {
      return Aftermath.of(store, acknowledged, sent);
    }
  }
}
