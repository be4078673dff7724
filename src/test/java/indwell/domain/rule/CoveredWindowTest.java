package indwell.domain.rule;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.domain.TimelineSentence;
import java.math.BigDecimal;
import java.math.BigInteger;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Windows that are covered or not, by themselves, and the exact numbers that they are made of. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class CoveredWindowTest {
  private static final BigDecimal KG = new BigDecimal("70");

  private static TimelineSentence charted(String... lines) {
    return TimelineSentence.of("06-01 00:00 admitted A\n" + String.join("\n", lines));
  }

  private static String mean(TimelineSentence patient, String end, int hours) {
    return new CoveredWindow(patient.timeline().urine(), patient.instant(end), KG)
        .ratePerKgHour(hours)
        .map(rate -> rate.rounded(4).toPlainString())
        .orElse("not covered");
  }

  @Test
  void a_window_that_nothing_covers_up_to_its_end_has_no_mean() {
    TimelineSentence patient = charted("06-01 06:00 urine 210 hours=6");

    assertThat(mean(patient, "06-01 06:00", 6)).isEqualTo("0.5000");
    assertThat(mean(patient, "06-01 06:01", 6)).isEqualTo("not covered");
  }

  @Test
  void an_interval_that_ends_after_the_window_is_left_out() {
    TimelineSentence patient =
        charted("06-01 06:00 urine 210 hours=6", "06-01 07:00 urine 900 hours=2");

    assertThat(mean(patient, "06-01 06:00", 6)).isEqualTo("0.5000");
  }

  @Test
  void hour_by_hour_the_highest_hour_is_one_of_the_window() {
    StringBuilder hours = new StringBuilder("06-01 00:00 admitted A");
    for (int hour = 1; hour <= 13; hour++) {
      hours.append("\n06-01 %02d:00 urine %d hours=1".formatted(hour, hour == 1 ? 34 : 14));
    }
    TimelineSentence patient = TimelineSentence.of(hours.toString());

    UrineStage stage =
        new ConsecutiveUrineOutput(patient.timeline().urine(), patient.instant("06-01 13:00"), KG)
            .stage()
            .orElseThrow();
    assertThat(stage.stage()).isEqualTo(2);
    assertThat(stage.windowHours()).isEqualTo(12);
    assertThat(stage.ratePerKgHour()).isEqualByComparingTo("0.2");
  }

  @Test
  void a_fraction_has_a_positive_denominator_and_no_common_divisor() {
    assertThatThrownBy(() -> new Fraction(BigInteger.ONE, BigInteger.ZERO))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Fraction(BigInteger.ONE, BigInteger.ONE.negate()))
        .isInstanceOf(IllegalArgumentException.class);
    assertThat(Fraction.of(new BigDecimal("0.50")))
        .isEqualTo(new Fraction(BigInteger.ONE, BigInteger.TWO));
    assertThat(Fraction.of(new BigDecimal("0.5")).times(3))
        .isEqualByComparingTo(Fraction.of(new BigDecimal("1.5")));
    assertThat(Fraction.of(new BigDecimal("1E+2"))).isEqualTo(Fraction.of(new BigDecimal("100")));
  }
}
