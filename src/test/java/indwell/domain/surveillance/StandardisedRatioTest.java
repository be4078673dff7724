package indwell.domain.surveillance;

import static indwell.domain.surveillance.Statistics.RATIOS;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import indwell.domain.surveillance.StandardisedRatio.Calculated;
import indwell.domain.surveillance.StandardisedRatio.NotCalculated;
import java.math.BigDecimal;
import java.util.List;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * SIR-1 to SIR-26; the other rows name their source.
 *
 * <p>Source: of the rows marked CMS15, CMS Hospital Compare, Healthcare Associated Infections,
 * hospitals, 01/01/2015 to 12/31/2015. Predicted is rounded to three decimals there, hence the
 * tolerance of 0.002; the p values are recomputed and only their word is published.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class StandardisedRatioTest {
  private static final Offset<Double> ROUNDED_PREDICTION = within(0.002);
  private static final Offset<Double> FOUR_DECIMALS = within(0.00005);

  @ParameterizedTest(name = "{0}: {1} observed, {2} predicted are {3}")
  @CsvSource({
    // SIR-1 NHSN training, 21 March 2017; SIR-3 OpenEpi; SIR-6, SIR-7 Lastinger 2023, Table 3.
    "SIR-1, 4, 1.504, 2.660",
    "SIR-3, 4, 3.3, 1.212",
    "SIR-6, 4074, 5087.85, 0.801",
    "SIR-7, 2997, 4251.81, 0.705"
  })
  void published_ratios(String row, int observed, BigDecimal predicted, BigDecimal ratio) {
    assertThat(calculated(observed, predicted).ratio(3)).isEqualTo(ratio);
  }

  @Test
  @DisplayName(
      "SUR-1 (rules C31, S8): device days by the same method, withheld below 1.0 predicted")
  void device_days() {
    Calculated ratio = calculated(310, new BigDecimal("250.0"));
    // The chi-square link of the exact limits (rule 4.2, Ulm) encloses mid-P ones.
    assertThat(ratio.ratio(2)).isEqualTo(new BigDecimal("1.24"));
    assertThat(ratio.lower().orElseThrow()).isBetween(1.10, 1.12);
    assertThat(ratio.upper()).isBetween(1.37, 1.39);
    assertThat(RATIOS.of(new Tally(310, new BigDecimal("0.999"), "2022")))
        .isInstanceOf(NotCalculated.class);
  }

  @ParameterizedTest(name = "{0}: {1} observed, {2} predicted: {3} to {4}, derived")
  @CsvSource({"SIR-2, 4, 1.504, 0.845, 6.415", "SIR-4, 4, 3.3, 0.385, 2.924"})
  void derived_limits(String row, int observed, BigDecimal predicted, double low, double high) {
    Calculated ratio = calculated(observed, predicted);
    assertThat(ratio.lower().orElseThrow()).isCloseTo(low, within(0.0005));
    assertThat(ratio.upper()).isCloseTo(high, within(0.0005));
  }

  @ParameterizedTest(name = "{0}: {1} observed, {2} predicted: {3}; {4} to {5}; {6}; p {7} (CMS15)")
  @CsvSource({
    "SIR-8, 0, 1.045, 0.000, , 2.867, no different, ",
    "SIR-9, 0, 2.789, 0.000, , 1.074, no different, 0.0615",
    "SIR-10, 0, 7.088, 0.000, , 0.423, better, 0.0008",
    "SIR-11, 1, 1.009, 0.991, 0.050, 4.888, no different, ",
    "SIR-12, 1, 5.467, 0.183, 0.009, 0.902, better, 0.0315",
    "SIR-13, 2, 1.205, 1.660, 0.278, 5.484, no different, ",
    "SIR-14, 2, 11.346, 0.176, 0.030, 0.582, better, 0.0011",
    "SIR-15, 4, 2.578, 1.552, 0.493, 3.743, no different, 0.3787",
    "SIR-16, 7, 3.279, 2.135, 0.934, 4.223, no different, 0.0687",
    "SIR-17, 9, 3.954, 2.276, 1.110, 4.177, worse, 0.0276",
    "SIR-18, 10, 2.335, 4.283, 2.175, 7.634, worse, 0.0002",
    "SIR-19, 12, 5.423, 2.213, 1.199, 3.762, worse, 0.0139",
    "SIR-20, 34, 24.649, 1.379, 0.971, 1.906, no different, 0.0712",
    "SIR-21, 48, 72.627, 0.661, 0.493, 0.869, better, 0.0023",
    "SIR-22, 84, 114.443, 0.734, 0.589, 0.904, better, 0.0030",
    "SIR-25, 164, 124.659, 1.316, 1.126, 1.529, worse, "
  })
  void published_intervals(
      String row,
      int observed,
      BigDecimal predicted,
      double ratio,
      Double low,
      double high,
      String word,
      Double p) {
    Calculated found = calculated(observed, predicted);
    assertThat(found.ratio(9).doubleValue()).isCloseTo(ratio, ROUNDED_PREDICTION);
    assertThat(found.upper()).isCloseTo(high, ROUNDED_PREDICTION);
    assertThat(found.comparison().word()).isEqualTo(word);
    if (low == null) {
      assertThat(found.lower()).isEmpty();
    } else {
      assertThat(found.lower().orElseThrow()).isCloseTo(low, ROUNDED_PREDICTION);
    }
    if (p != null) {
      assertThat(found.p()).isCloseTo(p, FOUR_DECIMALS);
    }
  }

  @ParameterizedTest(name = "SIR-23: {0} observed, {1} predicted are not calculated (CMS15)")
  @CsvSource({"1, 0.965", "0, 0.987", "2, 0.344"})
  void withheld_below_one(int observed, BigDecimal predicted) {
    assertThat(of(observed, predicted)).isEqualTo(new NotCalculated(Withheld.PREDICTED_BELOW_ONE));
  }

  @Test
  @DisplayName("Exactly 1.0 predicted is calculated (rules S2, S8)")
  void exactly_one_predicted_is_calculated() {
    assertThat(calculated(3, new BigDecimal("1.000")).ratio(3)).isEqualTo("3.000");
    assertThat(of(3, new BigDecimal("0.9999999999"))).isInstanceOf(NotCalculated.class);
  }

  @Test
  @DisplayName("SIR-26: 3 of 2.0 and 0 of 0.8 together are 1.071, not a mean of ratios (rule S6)")
  void pooled_by_adding() {
    StandardisedRatio pooled = RATIOS.pooled(List.of(tally(3, "2.0"), tally(0, "0.8")));

    assertThat(((Calculated) pooled).ratio(3)).isEqualTo("1.071");
  }

  @Test
  void predictions_of_different_baselines_are_not_added() {
    Tally other = new Tally(1, new BigDecimal("3.7"), "2015");

    assertThat(RATIOS.pooled(List.of(tally(3, "2.0"), other)))
        .isEqualTo(new NotCalculated(Withheld.BASELINES_DIFFER));
    assertThat(RATIOS.pooled(List.of())).isEqualTo(new NotCalculated(Withheld.NO_PREDICTION));
  }

  private static Tally tally(int observed, String predicted) {
    return new Tally(observed, new BigDecimal(predicted), "2022");
  }

  private static StandardisedRatio of(int observed, BigDecimal predicted) {
    return RATIOS.of(new Tally(observed, predicted, "2022"));
  }

  private static Calculated calculated(int observed, BigDecimal predicted) {
    return (Calculated) of(observed, predicted);
  }
}
