package indwell.docs;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** docs/failure.md names a test for each thing that fails; the tests are there. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class FailurePageTest {

  @Test
  void each_failure_names_a_test_that_is_there() throws Exception {
    NamedTests named = NamedTests.of("docs/failure.md");

    assertThat(named.missing()).isEmpty();
    assertThat(named.all()).hasSizeGreaterThan(20);
  }

  @Test
  void no_row_is_without_one() throws Exception {
    for (List<String> row : Markdown.of("docs/failure.md").rows()) {
      if (row.size() == 4 && !row.get(0).equals("what fails")) {
        assertThat(row.get(3)).as(row.get(0)).containsPattern("`\\w+(Test|IT)` \\w+");
      }
    }
  }
}
