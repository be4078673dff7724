package indwell.docs;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** docs/rules.md as data: the rules with the rows of their tables. */
final class RulePage {
  private static final Pattern HEADING = Pattern.compile("### ([A-Z]+(?:-[A-Z0-9]+)+) .*");

  private static final Pattern CLASS = Pattern.compile("Class `(\\w+)`, test `(\\w+)`\\.");

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

  /**
   * What makes a rule.
   *
   * @param flagCode the flag that it raises; empty for a count
   */
  record Made(String rule, String flagCode, String className, String testName) {
    /** What a class that states the rule has in it: its constant or its id. */
    String mark() {
      return "RuleId\\." + rule.replace('-', '_') + "\\b|\\b" + rule + "\\b";
    }

    /** What a test of it has in it: the class, the id or the flag. */
    String testMark() {
      String flag = flagCode.isEmpty() ? "" : "|FlagCode\\." + constant(flagCode) + "\\b";
      return "\\b" + className + "\\b|\\b" + rule + "\\b" + flag;
    }

    private static String constant(String code) {
      return code.replace('-', '_').toUpperCase(Locale.ROOT);
    }
  }

  /** What makes each rule, in the order of the page. */
  static List<Made> made() throws IOException {
    List<Made> all = new ArrayList<>();
    String heading = "";
    for (String line : lines()) {
      Matcher named = CLASS.matcher(line);
      if (HEADING.matcher(line).matches()) {
        heading = line;
      } else if (named.matches()) {
        String[] words = heading.split(" ");
        String flag = words[2].startsWith("`") ? words[2].replace("`", "") : "";
        all.add(new Made(words[1], flag, named.group(1), named.group(2)));
      }
    }
    return all;
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
