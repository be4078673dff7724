package indwell.domain.surveillance;

import static indwell.domain.surveillance.Statistics.MID_P;
import static indwell.domain.surveillance.Statistics.RATIOS;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.surveillance.StandardisedRatio.Calculated;
import java.math.BigDecimal;
import net.jqwik.api.Assume;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;

/** What holds for every count, unrounded. Source: Kulkarni 1998, the two always agree. */
class MidPPropertiesTest {

  @Property(seed = "20261125", tries = 2000)
  void significant_if_and_only_if_the_interval_excludes_1(
      @ForAll @IntRange(max = 300) int observed,
      @ForAll @DoubleRange(min = 1, max = 300) double predicted) {
    Calculated ratio = of(observed, predicted);
    // On the very edge the two differ by what the root finder leaves open.
    Assume.that(Math.abs(ratio.p() - MidP.ALPHA) > 1e-9);

    boolean excludes = ratio.upper() < 1 || ratio.lower().orElse(0) > 1;
    assertThat(ratio.p() <= MidP.ALPHA).isEqualTo(excludes);
    assertThat(ratio.comparison() != Comparison.NO_DIFFERENT).isEqualTo(excludes);
  }

  @Property(seed = "20261125", tries = 300)
  void at_either_limit_the_p_value_is_just_significant(@ForAll @IntRange(max = 5000) int observed) {
    assertThat(MID_P.pValue(observed, MID_P.upper(observed))).isBetween(0.05 - 1e-9, 0.05 + 1e-9);
    MID_P
        .lower(observed)
        .ifPresent(
            low -> assertThat(MID_P.pValue(observed, low)).isBetween(0.05 - 1e-9, 0.05 + 1e-9));
  }

  @Property(seed = "20261125", tries = 500)
  void the_limits_hold_the_count_between_them(@ForAll @IntRange(max = 2_000_000) int observed) {
    assertThat(MID_P.upper(observed)).isGreaterThan(observed);
    assertThat(MID_P.lower(observed).orElse(-1)).isLessThan(observed);
    assertThat(MID_P.lower(observed).isEmpty()).isEqualTo(observed == 0);
  }

  @Property(seed = "20261125", tries = 500)
  void one_event_more_raises_both_limits(@ForAll @IntRange(max = 20_000) int observed) {
    assertThat(MID_P.upper(observed + 1)).isGreaterThan(MID_P.upper(observed));
    assertThat(MID_P.lower(observed + 1).orElseThrow())
        .isGreaterThan(MID_P.lower(observed).orElse(0));
  }

  @Property(seed = "20261125", tries = 500)
  void a_prediction_further_away_is_less_likely(
      @ForAll @IntRange(min = 1, max = 400) int observed,
      @ForAll @DoubleRange(min = 1, max = 5) double factor) {
    assertThat(MID_P.pValue(observed, (observed + 1) * factor * 1.5))
        .isLessThanOrEqualTo(MID_P.pValue(observed, (observed + 1) * factor));
  }

  @Property(seed = "20261125", tries = 500)
  void the_word_is_on_the_side_of_the_ratio(
      @ForAll @IntRange(max = 500) int observed,
      @ForAll @DoubleRange(min = 1, max = 500) double predicted) {
    Calculated ratio = of(observed, predicted);
    if (ratio.comparison() != Comparison.NO_DIFFERENT) {
      assertThat(ratio.comparison() == Comparison.WORSE).isEqualTo(observed > predicted);
    }
  }

  private static Calculated of(int observed, double predicted) {
    return (Calculated) RATIOS.of(new Tally(observed, BigDecimal.valueOf(predicted), "2022"));
  }
}
