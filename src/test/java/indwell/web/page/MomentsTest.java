package indwell.web.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

@DisplayNameGeneration(ReplaceUnderscores.class)
class MomentsTest {
  @ParameterizedTest
  @CsvSource({
    "PT0S, 0 min",
    "PT59M59S, 59 min",
    "PT1H, 1 h",
    "PT47H59M, 47 h",
    "PT48H, 2 days",
    "PT71H59M, 2 days"
  })
  void a_length_is_told_in_the_unit_that_a_ward_would_use(Duration length, String told) {
    assertThat(Moments.length(length)).isEqualTo(told);
  }
}
