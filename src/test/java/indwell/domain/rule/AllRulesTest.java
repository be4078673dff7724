package indwell.domain.rule;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

@DisplayNameGeneration(ReplaceUnderscores.class)
class AllRulesTest {

  @Test
  void there_is_one_rule_for_each_code_in_the_order_of_the_codes() {
    assertThat(AllRules.FLAGS).extracting(FlagRule::code).containsExactly(FlagCode.values());
    assertThat(AllRules.FLAGS).extracting(FlagRule::id).doesNotHaveDuplicates();
  }

  @Test
  void a_code_is_found_by_its_wire_form_only() {
    for (FlagCode code : FlagCode.values()) {
      assertThat(FlagCode.ofCode(code.code())).contains(code);
      assertThat(FlagCode.ofCode(code.name())).isEmpty();
    }
  }

  @Test
  void a_suprapubic_catheter_raises_every_flag_but_overlap() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 00:00 admitted A
            06-01 00:00 weighed 70
            06-01 00:00 inserted u1
            06-01 00:00 inserted s1 suprapubic for=perioperative label=10 filled=5 dwell=3 \
            steps=lubricant:not-done
            06-01 06:00 urine 100 hours=6
            06-02 06:00 reviewed s1 not-needed
            06-10 00:00 discharged
            """);

    assertThat(patient.flags("06-09 23:00").lines().filter(line -> line.contains(" s1 ")))
        .containsExactly(
            "need-review-overdue s1 since 06-03 12:00",
            "securement-change-overdue s1 since 06-09 00:00",
            "output-charting-overdue s1 since 06-01 14:00",
            "care-check-overdue s1 since 06-01 12:00",
            "postoperative-removal-overdue s1 since 06-02 00:00",
            "dwell-limit-exceeded s1 since 06-04 00:00",
            "balloon-fill-mismatch s1 since 06-01 00:00",
            "low-urine-output s1 since 06-01 06:00",
            "no-accepted-indication s1 since 06-02 06:00",
            "insertion-steps-missing s1 since 06-01 00:00");
    assertThat(patient.flags("06-10 00:00"))
        .isEqualTo(
            "removal-not-recorded s1 since 06-10 00:00\nremoval-not-recorded u1 since 06-10 00:00");
  }

  @Test
  void one_without_a_bag_raises_neither_of_the_two_about_urine() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 00:00 admitted A
            06-01 00:00 weighed 70
            06-01 00:00 inserted u1 no-bag
            06-01 06:00 urine 100 hours=6
            """);

    assertThat(patient.flags("06-09 23:00"))
        .isEqualTo(
            """
            need-review-overdue u1 since 06-02 12:00
            securement-change-overdue u1 since 06-09 00:00
            care-check-overdue u1 since 06-01 12:00""");
  }

  @Test
  void one_flag_for_each_catheter_and_code_even_after_a_second_placement() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 00:00 admitted A
            06-01 00:00 inserted c1
            06-02 00:00 discharged
            06-03 00:00 admitted A stay=E2
            06-03 00:00 inserted c1 stay=E2
            06-04 00:00 discharged stay=E2
            """);

    assertThat(patient.flags("06-05 00:00")).isEqualTo("removal-not-recorded c1 since 06-02 00:00");
  }

  @Test
  void no_flag_is_about_a_catheter_at_rest() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 00:00 admitted A
            06-01 00:00 inserted c1 label=10 filled=5 steps=lubricant:not-done
            06-02 18:00 discharged with-catheter
            06-05 00:00 admitted A stay=E2
            """);

    assertThat(patient.flags("06-02 17:59").lines()).hasSize(5);
    assertThat(patient.flags("06-02 18:00")).isEmpty();
    assertThat(patient.flags("06-05 00:00").lines()).hasSize(5);
  }

  @Test
  void every_rule_says_where_it_comes_from() {
    assertThat(RuleId.values()).allSatisfy(rule -> assertThat(rule.source()).isNotBlank());
    assertThat(RuleId.values()).extracting(RuleId::id).doesNotHaveDuplicates();
  }
}
