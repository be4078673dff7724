package indwell.docs;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** docs/rules.md as data: the rules with the rows of their tables. */
final class RulePage {
  private static final Pattern HEADING = Pattern.compile("### ([A-Z]+(?:-[A-Z0-9]+)+) .*");

  private RulePage() {}

  /** A line of a rule's table, without its heading. */
  record Row(String rule, List<String> cells) {
    @Override
    public String toString() {
      return rule + ": " + String.join(" | ", cells);
    }
  }

  /** The ids in the headings, in the order of the page. */
  static List<String> ruleIds() throws IOException {
    List<String> ids = new ArrayList<>();
    for (String line : lines()) {
      Matcher heading = HEADING.matcher(line);
      if (heading.matches()) {
        ids.add(heading.group(1));
      }
    }
    return ids;
  }

  /** The rows of all rules. */
  static List<Row> rows() throws IOException {
    List<Row> rows = new ArrayList<>();
    String rule = "";
    for (String line : lines()) {
      Matcher heading = HEADING.matcher(line);
      if (heading.matches()) {
        rule = heading.group(1);
      } else if (line.startsWith("| ") && !line.startsWith("| given ")) {
        String inner = line.substring(2, line.length() - 2);
        rows.add(new Row(rule, Arrays.asList(inner.split(" \\| ", -1))));
      }
    }
    return rows;
  }

  private static List<String> lines() throws IOException {
    return Files.readAllLines(Path.of("docs/rules.md"));
  }
}
