package indwell.domain.rule;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * Low urine output as a flag; the stages themselves stand in {@link UrineOutputCheckValuesTest}.
 *
 * <p>Source: contract, section 3, low-urine-output; KDIGO 2012 AKI guideline, Table 2.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class LowUrineOutputTest {

  private static final FlagCode CODE = FlagCode.LOW_URINE_OUTPUT;
  private static final String IN = "06-01 00:00 admitted A\n06-01 00:00 inserted c1 %s\n";

  private static TimelineSentence patient(String details, String... lines) {
    return TimelineSentence.of(IN.formatted(details) + String.join("\n", lines));
  }

  @Test
  void from_the_end_of_the_first_interval_of_the_run_until_one_lifts_it() {
    TimelineSentence patient =
        patient(
            "",
            "06-01 00:00 weighed 70",
            "06-01 06:00 urine 180 hours=6",
            "06-01 07:00 urine 30 hours=1",
            "06-01 08:00 urine 900 hours=1",
            "06-01 14:00 urine 100 hours=6");

    assertThat(patient.flags(CODE, "06-01 05:59")).isEmpty();
    assertThat(patient.flags(CODE, "06-01 06:00")).isEqualTo("c1 since 06-01 06:00");
    assertThat(patient.flags(CODE, "06-01 07:30")).isEqualTo("c1 since 06-01 06:00");
    assertThat(patient.flags(CODE, "06-01 08:00")).isEmpty();
    assertThat(patient.history(CODE))
        .isEqualTo("c1 from 06-01 06:00 to 06-01 08:00\nc1 from 06-01 14:00");
  }

  @Test
  void the_passing_of_time_does_not_lift_it_and_an_interval_without_a_result_does() {
    TimelineSentence patient =
        patient(
            "",
            "06-01 00:00 weighed 70",
            "06-01 06:00 urine 180 hours=6",
            "06-03 06:00 urine 1 hours=1");

    assertThat(patient.flags(CODE, "06-03 05:59")).isEqualTo("c1 since 06-01 06:00");
    assertThat(patient.flags(CODE, "06-03 06:00")).isEmpty();
  }

  @Test
  void no_weight_no_flag_and_a_weight_measured_later_does_not_count_back() {
    String low = "06-01 06:00 urine 180 hours=6";

    assertThat(patient("", low).history(CODE)).isEmpty();
    assertThat(patient("", low, "06-01 06:00:00.001 weighed 70").history(CODE)).isEmpty();
    assertThat(patient("", low, "06-01 06:00 weighed 70").history(CODE))
        .isEqualTo("c1 from 06-01 06:00");
  }

  @Test
  void the_latest_weight_at_the_end_of_the_window_is_the_one() {
    String low = "06-01 06:00 urine 180 hours=6";

    assertThat(patient("", low, "06-01 01:00 weighed 70", "06-01 05:00 weighed 60").history(CODE))
        .isEmpty();
    assertThat(patient("", low, "06-01 01:00 weighed 60", "06-01 05:00 weighed 61").history(CODE))
        .isEqualTo("c1 from 06-01 06:00");
  }

  @Test
  void two_intervals_that_end_at_once_are_one_result() {
    TimelineSentence patient =
        patient(
            "",
            "06-01 00:00 weighed 70",
            "06-01 06:00 urine 100 hours=6",
            "06-01 06:00 urine 110 hours=6");

    assertThat(patient.history(CODE)).isEmpty();
  }

  @Test
  void it_serves_every_catheter_with_a_bag_from_its_insertion_at_the_earliest() {
    TimelineSentence patient =
        TimelineSentence.of(
            """
            06-01 00:00 weighed 70
            06-01 05:00 inserted c1 suprapubic
            06-01 05:00 inserted c2 no-bag
            06-01 06:00 urine 180 hours=6
            06-01 09:00 exchanged c1 c3 suprapubic
            """);

    assertThat(patient.history(CODE))
        .isEqualTo("c1 from 06-01 06:00 to 06-01 09:00\nc3 from 06-01 09:00");
  }

  @Test
  void the_flag_names_stage_window_and_weight_and_every_fact() {
    TimelineSentence patient =
        patient(
            "",
            "06-01 00:00 weighed 70.5",
            "06-01 02:00 urine 600 hours=2",
            "06-01 09:00 urine 100 hours=7",
            "06-01 12:00 urine 100 hours=3");

    assertThat(patient.inForce("06-01 12:00"))
        .filteredOn(span -> span.code() == CODE)
        .singleElement()
        .satisfies(
            span -> {
              assertThat(span.trace().finding())
                  .isEqualTo(
                      "KDIGO urine output stage 1: mean of 0.3377 mL/kg/h over the last 6 h, weight"
                          + " 70.5 kg.");
              assertThat(span.trace().facts())
                  .extracting(fact -> fact.key().eventId())
                  .containsExactly("e6", "e3", "e5");
            });
  }

  @ParameterizedTest
  @EnumSource(UrineReading.class)
  void the_source_is_that_of_the_reading_in_force(UrineReading reading) {
    TimelineSentence patient = lowByEveryReading().with(reading(reading));

    assertThat(patient.inForce("06-02 00:00"))
        .filteredOn(span -> span.code() == CODE)
        .extracting(span -> span.trace().source())
        .containsExactly(reading.source());
  }

  @Test
  void the_source_of_one_reading_does_not_speak_of_another() {
    assertThat(UrineReading.MEAN.source()).contains("by the mean").doesNotContain("hour,", "neo");
    assertThat(UrineReading.CONSECUTIVE.source())
        .contains("by every charted hour")
        .doesNotContain("the mean", "neo");
    assertThat(UrineReading.NEONATAL.source())
        .contains("neonatal", "24 hours")
        .doesNotContain("Table 2", "Allen");
  }

  private static TimelineSentence lowByEveryReading() {
    String hours =
        IntStream.rangeClosed(1, 23)
            .mapToObj("06-01 %02d:00 urine 20 hours=1"::formatted)
            .collect(Collectors.joining("\n"));
    return patient("", "06-01 00:00 weighed 70", hours, "06-02 00:00 urine 20 hours=1");
  }

  private static RuleSettings reading(UrineReading reading) {
    RuleSettings defaults = RuleSettings.DEFAULTS;
    return new RuleSettings(
        defaults.reviewDueBy(),
        defaults.securementGoodDays(),
        defaults.outputChartingWithin(),
        defaults.careCheckWithin(),
        defaults.postoperativeWithin(),
        defaults.balloonToleranceMl(),
        reading);
  }
}
