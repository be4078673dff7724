package indwell.faults;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Whatever happens to the process, an answer that came has its row; at length by the harness. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class AnswerFaultsTest {

  @ParameterizedTest
  @EnumSource(
      value = Point.class,
      names = {"BEFORE_ROW", "AFTER_ROW"})
  void every_answer_that_came_before_the_end_has_its_row(Point point) throws Exception {
    Aftermath aftermath = AnswerFaults.endingAt("sqlite", point, 12);

    assertThat(aftermath.acknowledged()).isPositive();
    assertThat(aftermath.unaudited()).isZero();
  }

  @Test
  void an_answer_without_its_row_is_found() throws Exception {
    Aftermath aftermath = AnswerFaults.withoutTrail("sqlite", 1_000);

    assertThat(aftermath.acknowledged()).isPositive();
    assertThat(aftermath.unaudited()).isEqualTo(aftermath.acknowledged());
  }
}
