package indwell.domain.surveillance;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.event.CatheterId;
import indwell.domain.event.Drainage;
import indwell.domain.event.Indication;
import indwell.domain.event.InsertionFindings;
import indwell.domain.event.InsertionStep;
import indwell.domain.event.Placing;
import indwell.domain.event.Product;
import indwell.domain.event.Route;
import indwell.domain.event.StatedIndication;
import indwell.domain.event.StepResult;
import indwell.domain.rule.FlagCode;
import indwell.domain.surveillance.DwellTimes.Bin;
import java.math.BigDecimal;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * StepCompliance (STEP-1), ReviewCompliance (REVIEW-1), DwellTimes (DWELL-1) and OverdueHours
 * (HOURS-1); what they count over timelines stands in the rows of docs/rules.md.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PracticeTest {
  private static Placing insertion(Map<InsertionStep, StepResult> steps) {
    return new Placing(
        new CatheterId("c"),
        Route.URETHRAL,
        Drainage.BAG,
        new Product(
            14,
            Optional.empty(),
            Optional.empty(),
            OptionalInt.empty(),
            Optional.empty(),
            Optional.empty(),
            OptionalInt.empty()),
        new StatedIndication(Indication.ACUTE_RETENTION, Optional.empty()),
        Optional.empty(),
        new InsertionFindings(
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            OptionalInt.empty(),
            Optional.empty()),
        steps);
  }

  @Test
  void each_step_is_counted_by_what_was_charted() {
    StepCompliance compliance =
        StepCompliance.of(
            List.of(
                insertion(Map.of(InsertionStep.LUBRICANT, StepResult.DONE)),
                insertion(
                    Map.of(
                        InsertionStep.LUBRICANT, StepResult.NOT_DONE,
                        InsertionStep.HAND_HYGIENE, StepResult.DONE)),
                insertion(Map.of(InsertionStep.LUBRICANT, StepResult.NOT_APPLICABLE)),
                insertion(Map.of())));

    assertThat(List.of(compliance.insertions(), compliance.checked(), compliance.complete()))
        .containsExactly(4, 2, 1);
    assertThat(compliance.steps().get(InsertionStep.LUBRICANT))
        .isEqualTo(new StepCompliance.Counts(1, 1, 1, 1));
    assertThat(compliance.steps().get(InsertionStep.LUBRICANT).asked()).isEqualTo(2);
    assertThat(compliance.steps().get(InsertionStep.HAND_HYGIENE))
        .isEqualTo(new StepCompliance.Counts(1, 0, 0, 3));
    assertThat(compliance.steps()).hasSize(InsertionStep.values().length);
  }

  @Test
  void reviews_and_hours_add_up() {
    assertThat(new ReviewCompliance(3, 2).plus(new ReviewCompliance(5, 1)))
        .isEqualTo(new ReviewCompliance(8, 3));
    OverdueHours hours =
        new OverdueHours(Map.of(FlagCode.CARE_CHECK_OVERDUE, Duration.ofMinutes(90)))
            .plus(new OverdueHours(Map.of(FlagCode.CARE_CHECK_OVERDUE, Duration.ofMinutes(93))));
    assertThat(hours.hours(FlagCode.CARE_CHECK_OVERDUE, 1)).isEqualByComparingTo("3.1");
    assertThat(hours.hours(FlagCode.DWELL_LIMIT_EXCEEDED, 1)).isEqualByComparingTo("0");
  }

  @ParameterizedTest
  @CsvSource({"'4', 4.0", "'9 1 5', 5.0", "'1 2', 1.5", "'2 2 3 40', 2.5", "'1 4 4 4', 4.0"})
  void the_median_is_that_of_the_middle_or_between_the_two(String days, BigDecimal median) {
    assertThat(dwell(days).median()).hasValue(median);
  }

  @Test
  void without_catheters_there_is_no_median() {
    assertThat(new DwellTimes(List.of()).median()).isEmpty();
  }

  @Test
  void every_catheter_lies_in_one_class_and_the_classes_leave_no_gap() {
    List<Bin> bins = dwell("1 7 8 14 15 28 29 365").distribution();

    assertThat(bins)
        .extracting(Bin::label)
        .containsExactly("1", "2", "3", "4", "5", "6", "7", "8-14", "15-21", "22-28", "29+");
    assertThat(bins).extracting(Bin::catheters).containsExactly(1, 0, 0, 0, 0, 0, 1, 2, 1, 1, 2);
  }

  private static DwellTimes dwell(String days) {
    return new DwellTimes(List.of(days.split(" ")).stream().map(Integer::valueOf).toList());
  }
}
