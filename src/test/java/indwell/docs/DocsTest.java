package indwell.docs;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.rule.AllRules;
import indwell.domain.rule.RuleId;
import indwell.intake.EventBodies;
import indwell.intake.Reading;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** The documents say what the code does. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class DocsTest {

  @Test
  void every_link_leads_to_a_file() throws Exception {
    List<String> broken = new ArrayList<>();
    for (Markdown page : Markdown.all()) {
      broken.addAll(page.brokenLinks());
    }

    assertThat(broken).isEmpty();
  }

  @Test
  void the_readme_has_one_test_command_and_the_ci_runs_it() throws Exception {
    assertThat(Markdown.of("README.md").blocks("sh")).contains("mvn verify");
    assertThat(Files.readString(Path.of(".ci/run"))).contains("\nmvn -B -ntp verify\n");
    assertThat(Path.of(".ci/run")).isExecutable();
  }

  @Test
  void the_insertion_of_the_readme_is_accepted() throws Exception {
    String post =
        Markdown.of("README.md").blocks("sh").stream()
            .filter(block -> block.contains("/events"))
            .findFirst()
            .orElseThrow();
    Matcher body = Pattern.compile("-d '(.*)'", Pattern.DOTALL).matcher(post);
    assertThat(body.find()).isTrue();

    Reading reading =
        EventBodies.line(
            body.group(1).getBytes(StandardCharsets.UTF_8), Instant.parse("2026-01-01T00:00:00Z"));

    assertThat(reading).isInstanceOf(Reading.Accepted.class);
  }

  @Test
  void the_readme_stays_short_and_cautious() throws Exception {
    assertThat(Markdown.of("README.md").lines()).isBetween(50, 85);
    for (String page : List.of("README.md", "docs/rules.md", "examples/README.md")) {
      String text = Files.readString(Path.of(page)).replace('\n', ' ');
      assertThat(text)
          .describedAs(page)
          .containsIgnoringCase("clinical judgement and never")
          .containsIgnoringCase("local policy and licensed practice decide");
    }
  }

  @Test
  void the_rules_of_the_page_are_the_rules_of_the_code() throws Exception {
    assertThat(RulePage.ruleIds())
        .isEqualTo(Arrays.stream(RuleId.values()).map(RuleId::id).toList());
  }

  @Test
  void every_rule_has_a_source_and_rows() throws Exception {
    int rules = RulePage.ruleIds().size();
    List<String> withRows = RulePage.rows().stream().map(RulePage.Row::rule).distinct().toList();

    assertThat(Markdown.of("docs/rules.md").matches("^(Source): \\S")).hasSize(rules);
    assertThat(withRows).isEqualTo(RulePage.ruleIds());
  }

  /** The class states the rule, and the test is about what the class decides. */
  @Test
  void every_rule_has_a_class_and_a_test() throws Exception {
    List<String> named = Markdown.of("docs/rules.md").matches("^(Class `\\w+`, test `\\w+`)\\.$");
    assertThat(named).hasSameSizeAs(RulePage.ruleIds());
    for (RulePage.Made rule : RulePage.made()) {
      String code = Files.readString(file("src/main/java/indwell/domain", rule.className()));
      String test = Files.readString(file("src/test/java/indwell/domain", rule.testName()));
      assertThat(code).as("%s is stated by its class", rule).containsPattern(rule.mark());
      assertThat(test).as("%s is tested", rule).containsPattern(rule.testMark());
    }
  }

  private static Path file(String folder, String className) throws Exception {
    try (Stream<Path> files = Files.walk(Path.of(folder))) {
      return files
          .filter(path -> path.getFileName().toString().equals(className + ".java"))
          .findFirst()
          .orElseThrow(() -> new AssertionError("No " + className + " in " + folder));
    }
  }

  @Test
  void each_flag_rule_stands_with_its_code() throws Exception {
    List<String> inCode =
        AllRules.FLAGS.stream().map(rule -> rule.id().id() + " " + rule.code().code()).toList();

    assertThat(Markdown.of("docs/rules.md").matches("^### (FLAG-[A-Z-]+ `[a-z-]+`)$"))
        .extracting(heading -> heading.replace("`", ""))
        .isEqualTo(inCode);
  }

  @Test
  void every_test_that_the_pages_name_is_there() throws Exception {
    List<String> missing = new ArrayList<>();
    for (Markdown page : Markdown.all()) {
      for (String name : page.matches("`([A-Z]\\w+(?:Test|IT))`")) {
        if (!isTestClass(name)) {
          missing.add(name);
        }
      }
    }

    assertThat(missing).isEmpty();
  }

  @Test
  void every_package_stands_in_the_architecture() throws Exception {
    List<String> onPage = Markdown.of("docs/architecture.md").matches("^\\| `(\\w+)` \\| ");
    try (Stream<Path> packages = Files.list(Path.of("src/main/java/indwell"))) {
      assertThat(packages.map(path -> path.getFileName().toString())).isSubsetOf(onPage);
    }
  }

  @Test
  void every_decision_stands_in_the_list() throws Exception {
    String list = Files.readString(Path.of("docs/decisions/README.md"));
    try (Stream<Path> pages = Files.list(Path.of("docs/decisions"))) {
      assertThat(pages.map(path -> path.getFileName().toString()))
          .filteredOn(name -> name.matches("\\d{4}-.*"))
          .isNotEmpty()
          .allMatch(list::contains);
    }
  }

  private static boolean isTestClass(String name) throws Exception {
    try (Stream<Path> tests = Files.walk(Path.of("src/test/java"))) {
      return tests.anyMatch(path -> path.getFileName().toString().equals(name + ".java"));
    }
  }
}
