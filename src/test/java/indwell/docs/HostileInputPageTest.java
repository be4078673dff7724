package indwell.docs;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** docs/hostile-input.md names a test for each thing that is sent; the tests are there. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class HostileInputPageTest {

  @Test
  void each_thing_that_is_sent_names_a_test_that_is_there() throws Exception {
    NamedTests named = NamedTests.of("docs/hostile-input.md");

    assertThat(named.missing()).isEmpty();
    assertThat(named.all()).hasSizeGreaterThan(40);
  }

  @Test
  void no_row_is_without_one() throws Exception {
    List<List<String>> rows =
        Markdown.of("docs/hostile-input.md").rows().stream()
            .takeWhile(row -> !row.get(0).equals("way in"))
            .filter(row -> !row.get(0).equals("what is sent"))
            .toList();

    assertThat(rows).hasSizeGreaterThan(30);
    assertThat(rows)
        .allSatisfy(
            row -> assertThat(row.get(2)).as(row.get(0)).containsPattern("`\\w+(Test|IT)` \\w+"));
  }
}
