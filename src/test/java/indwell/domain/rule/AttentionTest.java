package indwell.domain.rule;

import static indwell.domain.rule.Attention.CARE;
import static indwell.domain.rule.Attention.PATIENT;
import static indwell.domain.rule.Attention.RECORD;
import static indwell.domain.rule.Attention.REMOVAL;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * What a flag asks of the ward: the patient first, then removal, then the round, then the record.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class AttentionTest {

  @Test
  void every_flag_asks_for_one_thing() {
    Map<Attention, List<FlagCode>> flags =
        Arrays.stream(FlagCode.values()).collect(Collectors.groupingBy(Attention::of));

    assertThat(flags.get(PATIENT)).containsExactly(FlagCode.LOW_URINE_OUTPUT);
    assertThat(flags.get(REMOVAL))
        .containsExactlyInAnyOrder(
            FlagCode.NEED_REVIEW_OVERDUE,
            FlagCode.POSTOPERATIVE_REMOVAL_OVERDUE,
            FlagCode.DWELL_LIMIT_EXCEEDED,
            FlagCode.NO_ACCEPTED_INDICATION);
    assertThat(flags.get(CARE)).hasSize(3);
    assertThat(flags.get(RECORD)).hasSize(4);
  }

  @Test
  void it_is_said_in_words_of_its_own() {
    assertThat(Arrays.stream(Attention.values()).map(Attention::words))
        .doesNotHaveDuplicates()
        .noneMatch(String::isBlank)
        .hasSize(4);
  }
}
