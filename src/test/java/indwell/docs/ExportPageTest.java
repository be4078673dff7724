package indwell.docs;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** docs/api/export.md names a test for each demand of the guide; the tests are there. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ExportPageTest {
  private static final Pattern TEST = Pattern.compile("`(\\w+Test)` (\\w+)");

  @Test
  void each_demand_names_a_test_that_is_there() throws Exception {
    List<String> missing = new ArrayList<>();
    int demands = 0;
    for (List<String> row : Markdown.of("docs/api/export.md").rows()) {
      Matcher named = TEST.matcher(row.get(row.size() - 1));
      if (named.matches()) {
        demands++;
        if (!isTest(named.group(1), named.group(2))) {
          missing.add(named.group());
        }
      }
    }

    assertThat(missing).isEmpty();
    assertThat(demands).isGreaterThan(25);
  }

  private static boolean isTest(String type, String method) throws Exception {
    try (Stream<Path> files = Files.walk(Path.of("src/test/java"))) {
      Path file =
          files
              .filter(path -> path.getFileName().toString().equals(type + ".java"))
              .findFirst()
              .orElseThrow();
      return Pattern.compile("Test(?:\\n  @EnumSource)?\\n  void " + method + "\\(")
          .matcher(Files.readString(file))
          .find();
    }
  }
}
