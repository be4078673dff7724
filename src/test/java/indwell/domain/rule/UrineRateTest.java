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
              06-01 12:00 urine 210      hours=6
              """)
          .timeline();

  /** 210 mL, 70 kg, 6 h: 210 / 420, worked out by hand. */
  @Test
  void is_the_volume_by_weight_and_hours() {
    assertThat(UrineRate.of(PATIENT.urine().get(0), new BigDecimal("70"), 4)).isEqualTo("0.5000");
    assertThat(UrineRate.of(PATIENT.urine().get(0), new BigDecimal("80"), 3)).isEqualTo("0.438");
  }
}
