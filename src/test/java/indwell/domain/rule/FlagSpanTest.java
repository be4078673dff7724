package indwell.domain.rule;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import indwell.domain.time.Span;
import java.util.List;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

@DisplayNameGeneration(ReplaceUnderscores.class)
class FlagSpanTest {

  @Test
  void in_force_while_the_rule_holds_and_the_catheter_is_in() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 00:00 admitted A
            06-01 00:00 inserted c1
            06-03 00:00 discharged with-catheter
            06-05 00:00 admitted A stay=E2
            06-06 00:00 reviewed c1 still-needed
            """);

    assertThat(timesInForce(patient, FlagCode.NEED_REVIEW_OVERDUE))
        .containsExactly(
            List.of(
                Span.between(patient.instant("06-02 12:00"), patient.instant("06-03 00:00")),
                Span.between(patient.instant("06-05 00:00"), patient.instant("06-06 00:00"))),
            List.of(Span.since(patient.instant("06-07 12:00"))));
  }

  @Test
  void never_in_force_when_the_catheter_rested_all_the_while() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 00:00 admitted A
            06-01 00:00 inserted c1
            06-02 00:00 discharged with-catheter
            06-03 00:00 removed c1
            """);

    assertThat(timesInForce(patient, FlagCode.NEED_REVIEW_OVERDUE)).containsExactly(List.of());
  }

  @Test
  void a_removal_that_is_not_recorded_needs_no_catheter_in_place() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 00:00 admitted A
            06-01 00:00 inserted c1
            06-02 00:00 discharged
            """);

    assertThat(timesInForce(patient, FlagCode.REMOVAL_NOT_RECORDED))
        .containsExactly(List.of(Span.since(patient.instant("06-02 00:00"))));
  }

  private static List<List<Span>> timesInForce(TimelineSentence patient, FlagCode code) {
    return AllRules.spans(
            new Bedside(patient.timeline(), RuleSettings.DEFAULTS, patient.calendar()))
        .stream()
        .filter(span -> span.code() == code)
        .map(FlagSpan::timesInForce)
        .toList();
  }
}
