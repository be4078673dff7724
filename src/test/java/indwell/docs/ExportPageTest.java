package indwell.docs;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** docs/api/export.md names a test for each demand of the guide; the tests are there. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ExportPageTest {

  @Test
  void each_demand_names_a_test_that_is_there() throws Exception {
    NamedTests named = NamedTests.of("docs/api/export.md");

    assertThat(named.missing()).isEmpty();
    assertThat(named.all()).hasSizeGreaterThan(25);
  }
}
