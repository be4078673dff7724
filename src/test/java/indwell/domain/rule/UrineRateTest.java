package indwell.domain.rule;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import indwell.domain.timeline.Timeline;
import java.math.BigDecimal;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Urine by weight and time. The unit is that of KDIGO 2012, section 2.1: mL/kg/h. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class UrineRateTest {
  private static final Timeline PATIENT =
      TimelineSentence.of(
              """
              06-01 08:00 weighed 80
              06-01 10:00 weighed 70
              06-01 12:00 urine 210      hours=6
              06-01 12:00:00.001 weighed 60
              """)
          .timeline();

  /** 210 mL, 70 kg, 6 h: 210 / 420, worked out by hand. */
  @Test
  void is_the_volume_by_weight_and_hours() {
    assertThat(UrineRate.of(PATIENT.urine().get(0), new BigDecimal("70"), 4)).isEqualTo("0.5000");
    assertThat(UrineRate.of(PATIENT.urine().get(0), new BigDecimal("80"), 3)).isEqualTo("0.438");
  }

  @Test
  void the_weight_is_the_latest_at_or_before_the_end_of_the_interval() {
    assertThat(UrineRate.weightOf(PATIENT.urine().get(0), PATIENT.weights()))
        .get()
        .satisfies(weight -> assertThat(weight.kg()).isEqualByComparingTo("70"));
    assertThat(UrineRate.weightOf(PATIENT.urine().get(0), PATIENT.weights().subList(2, 3)))
        .isEmpty();
  }
}
