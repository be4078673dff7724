package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Map;
import java.util.concurrent.TimeUnit;

/** The scripts of {@code src/test/browser}, which look at pages with Chromium. */
public final class Browser {
  private static final Path SCRIPTS = Path.of("src/test/browser");
  private static final int LONGEST_MINUTES = 10;

  private Browser() {}

  /** How a script ended. */
  public record Ended(int exitCode, String log) {}

  /** Skips the test where there is no Chromium, but never in CI, which installs it. */
  public static void orSkip() {
    assumeTrue(isThere("chromium") || System.getenv("CI") != null, "no Chromium");
  }

  /** Runs a script of tests to its end, with what it needs installed. */
  public static Ended run(String script, Map<String, String> environment) throws Exception {
    Ended installed = run(Map.of(), "npm", "ci", "--no-audit", "--no-fund");
    assertThat(installed.exitCode()).as(installed.log()).isZero();
    return run(environment, "node", "--test", script);
  }

  private static boolean isThere(String program) {
    return Arrays.stream(System.getenv("PATH").split(":"))
        .anyMatch(folder -> Files.isExecutable(Path.of(folder, program)));
  }

  private static Ended run(Map<String, String> environment, String... command) throws Exception {
    Path log = Files.createTempFile("indwell-browser-", ".log");
    ProcessBuilder builder =
        new ProcessBuilder(command)
            .directory(SCRIPTS.toFile())
            .redirectErrorStream(true)
            .redirectOutput(log.toFile());
    builder.environment().putAll(environment);
    Process process = builder.start();
    if (!process.waitFor(LONGEST_MINUTES, TimeUnit.MINUTES)) {
      process.destroyForcibly();
      throw new AssertionError("Too slow: " + read(log));
    }
    return new Ended(process.exitValue(), read(log));
  }

  private static String read(Path log) {
    try {
      return Files.readString(log);
    } catch (IOException unread) {
      return unread.toString();
    }
  }
}
