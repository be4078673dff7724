package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.DynamicTest.dynamicTest;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.api.io.TempDir;

/**
 * A FHIR client in JavaScript that others wrote goes through all that the running service lists:
 * {@code src/test/javascript/walk.test.mjs}. Needs Node.js 20 or later, with npm.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class JavaScriptClientIT {
  private static final Path SOURCES = Path.of("src/test/javascript");
  private static final Pattern RESULT = Pattern.compile("(?m)^(ok|not ok) \\d+ - (.*)$");
  private static final int LONGEST_MINUTES = 5;

  @TempDir Path data;
  @TempDir Path project;

  @TestFactory
  Stream<DynamicTest> everything_listed_works_for_it() throws Exception {
    install();
    String report;
    try (RunningService service =
        RunningService.start(Map.of("INDWELL_DATA_DIR", data.toString()))) {
      report =
          run(
              Map.of(
                  "INDWELL_URL", service.uri("").toString(),
                  "INDWELL_PROJECT", Path.of("").toAbsolutePath().toString()),
              "node",
              "--test",
              "--test-reporter=tap",
              "walk.test.mjs");
    }
    List<MatchResult> results = RESULT.matcher(report).results().toList();
    assertThat(results).as(report).hasSizeGreaterThan(200);
    return results.stream()
        .map(
            result ->
                dynamicTest(
                    result.group(2),
                    () -> assertThat(result.group(1)).as(detail(report, result)).isEqualTo("ok")));
  }

  /** What the report says of one test. */
  private static String detail(String report, MatchResult result) {
    return report.substring(result.start(), Math.min(report.length(), result.end() + 2000));
  }

  private void install() throws Exception {
    for (String file : List.of("package.json", "package-lock.json", "walk.test.mjs")) {
      Files.copy(SOURCES.resolve(file), project.resolve(file));
    }
    run(Map.of(), "npm", "ci", "--no-audit", "--no-fund");
  }

  private String run(Map<String, String> environment, String... command) throws Exception {
    Path output = Files.createTempFile(project, "output", ".txt");
    ProcessBuilder builder =
        new ProcessBuilder(command)
            .directory(project.toFile())
            .redirectErrorStream(true)
            .redirectOutput(output.toFile());
    builder.environment().putAll(environment);
    Process process;
    try {
      process = builder.start();
    } catch (IOException missing) {
      throw new IllegalStateException(
          command[0] + " cannot be started; expected Node.js 20 or later with npm", missing);
    }
    if (!process.waitFor(LONGEST_MINUTES, TimeUnit.MINUTES)) {
      process.destroyForcibly();
      throw new IllegalStateException(command[0] + " does not end:\n" + Files.readString(output));
    }
    return Files.readString(output);
  }
}
