package indwell.contract;

import static indwell.contract.SurveillanceFactsContract.MARCH;
import static indwell.contract.SurveillanceFactsContract.stated;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.jdbc.JdbcStore;
import indwell.adapter.store.postgres.PostgresStore;
import indwell.adapter.store.sqlite.SqliteStore;
import indwell.port.StoredFacts;
import indwell.port.SurveillanceFacts;
import java.io.BufferedReader;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;

/**
 * A process of its own that changes the facts of one month again and again and says so, a line
 * each, only when the store has answered. It is there to be killed.
 */
final class KillableFactsWriter {
  private KillableFactsWriter() {}

  /**
   * @param args {@code sqlite FOLDER} or {@code postgres URL}
   */
  public static void main(String[] args) {
    try (JdbcStore store =
        args[0].equals("sqlite")
            ? SqliteStore.open(Path.of(args[1]))
            : PostgresStore.open(args[1], TestPostgres.USER, TestPostgres.PASSWORD)) {
      SurveillanceFacts facts = store.facts();
      for (int n = 1; ; n++) {
        facts.record(List.of(stated(MARCH, content(n))), Samples.NOON, none -> List.of());
        System.out.println(n);
      }
    }
  }

  private static String content(int n) {
    return "{\"a\":" + n + "}";
  }

  /** Starts it, kills it after so many versions, and tells how many it had acknowledged. */
  static int killAfter(int atLeast, String kind, String where)
      throws IOException, InterruptedException {
    Process process =
        new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-Xmx256m",
                "-XX:+UseSerialGC",
                "-cp",
                System.getProperty("java.class.path"),
                KillableFactsWriter.class.getName(),
                kind,
                where)
            .redirectError(ProcessBuilder.Redirect.INHERIT)
            .start();
    int acknowledged = 0;
    try (BufferedReader said = process.inputReader()) {
      for (String line = said.readLine(); line != null; line = said.readLine()) {
        if (line.matches("\\d+")) {
          acknowledged = Integer.parseInt(line);
        }
        if (acknowledged == atLeast) {
          // Killing by the process object would also throw away what was said and not yet heard.
          process.toHandle().destroyForcibly();
        }
      }
    }
    process.waitFor();
    assertThat(acknowledged).isGreaterThanOrEqualTo(atLeast);
    return acknowledged;
  }

  /** Every version that was acknowledged is there; one more may be. */
  static void allThere(SurveillanceFacts facts, int acknowledged) {
    List<StoredFacts> versions = facts.versions(MARCH);
    assertThat(versions.size()).isBetween(acknowledged, acknowledged + 1);
    for (StoredFacts one : versions) {
      assertThat(one.canonical()).isEqualTo(content(one.version()));
    }
  }
}
