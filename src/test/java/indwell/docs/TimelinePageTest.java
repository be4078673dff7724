package indwell.docs;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Each reading that docs/timeline.md states has the test that it names. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class TimelinePageTest {

  @Test
  void every_reading_names_a_test_that_is_there() throws Exception {
    NamedTests named = NamedTests.of("docs/timeline.md");

    assertThat(named.missing()).isEmpty();
    assertThat(named.all()).hasSizeGreaterThanOrEqualTo(10).doesNotHaveDuplicates();
  }
}
