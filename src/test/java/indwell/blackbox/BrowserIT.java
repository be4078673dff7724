package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The pages of the packaged service in a real browser ({@code src/test/browser}). Skipped where
 * there is no Chromium, but never in CI, which installs it.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class BrowserIT {
  private static final Path SCRIPTS = Path.of("src/test/browser");

  @TempDir Path data;

  @Test
  void the_pages_hold_what_they_promise_in_a_browser() throws Exception {
    assumeTrue(isThere("chromium") || System.getenv("CI") != null, "no Chromium");
    Path log = data.resolve("browser.log");
    assertThat(run(log, Map.of(), "npm", "ci", "--no-audit", "--no-fund"))
        .as(() -> read(log))
        .isZero();
    Map<String, String> demo =
        Map.of("INDWELL_DATA_DIR", data.resolve("data").toString(), "INDWELL_DEMO", "true");
    try (RunningService service = RunningService.start(demo)) {
      Map<String, String> base = Map.of("INDWELL_BASE", "http://localhost:" + service.port());
      assertThat(run(log, base, "node", "--test", "browser.test.mjs")).as(() -> read(log)).isZero();
    }
  }

  private static boolean isThere(String program) {
    return List.of(System.getenv("PATH").split(":")).stream()
        .anyMatch(folder -> Files.isExecutable(Path.of(folder, program)));
  }

  private static int run(Path log, Map<String, String> environment, String... command)
      throws Exception {
    ProcessBuilder builder =
        new ProcessBuilder(command)
            .directory(SCRIPTS.toFile())
            .redirectErrorStream(true)
            .redirectOutput(log.toFile());
    builder.environment().putAll(environment);
    Process process = builder.start();
    if (!process.waitFor(10, TimeUnit.MINUTES)) {
      process.destroyForcibly();
      throw new AssertionError("Too slow: " + read(log));
    }
    return process.exitValue();
  }

  private static String read(Path log) {
    try {
      return Files.readString(log);
    } catch (IOException unread) {
      return unread.toString();
    }
  }
}
