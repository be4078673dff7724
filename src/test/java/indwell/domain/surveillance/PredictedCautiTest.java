package indwell.domain.surveillance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import indwell.domain.surveillance.CoefficientTable.Level;
import indwell.domain.surveillance.PredictedCauti.Prediction;
import java.math.BigDecimal;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * PRED-1 to PRED-7. Source: CDC, NHSN 2022 rebaseline, CAUTI risk adjustment, tables 6 and 14; the
 * expected counts are derived from them.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PredictedCautiTest {

  @ParameterizedTest(name = "{0}: {2} catheter days of {1} are {4} CAUTI (sum {3})")
  @CsvSource({
    "PRED-1, critical-care-4 421 major 5.7 0.141, 1000, -6.9536, 0.9552",
    "PRED-2, critical-care-4 421 major 6.5 0.141, 2500, -6.9536, 2.3880",
    "PRED-3, ward-5 68 none 5.6 0.140, 1800, -7.5214, 0.9745",
    "PRED-4, critical-care-1 421 major 6.6 0.3, 600, -5.9942, 1.4959",
    "PRED-5, step-down 420 graduate 1.0 0, 900, -7.2814, 0.6194",
    "PRED-6, ward-7 67 undergraduate 5.69 0.14, 1000, -10.2778, 0.03439"
  })
  void acute_care(String row, String hospital, long days, BigDecimal sum, BigDecimal expected) {
    Prediction found = acute(hospital, days);
    assertThat(found.sum()).isEqualByComparingTo(sum);
    assertThat(found.predicted().setScale(expected.scale(), java.math.RoundingMode.HALF_UP))
        .isEqualTo(expected);
  }

  @Test
  void the_ratio_of_PRED_3_is_withheld() {
    Tally tally = new Tally(2, acute("ward-5 68 none 5.6 0.140", 1800).predicted(), "2022");

    assertThat(Statistics.RATIOS.of(tally))
        .isEqualTo(new StandardisedRatio.NotCalculated(Withheld.PREDICTED_BELOW_ONE));
  }

  @Test
  void PRED_7_long_term_acute_care() {
    PredictedCauti model =
        new PredictedCauti(
            HospitalType.LONG_TERM_ACUTE_CARE,
            Map.of(Factor.AVERAGE_STAY_DAYS, "27.8", Factor.ICU_SHARE, "0.102"));
    Prediction found = model.predict(Optional.empty(), 1000).orElseThrow();
    assertThat(found.sum()).isEqualByComparingTo("-6.3506");
    assertThat(found.predicted().doubleValue()).isCloseTo(1.7457, within(0.00005));
  }

  /** Source: CDC table 10 (restated); the sums are derived. */
  @ParameterizedTest(name = "{0} days, share {1}: {2}")
  @CsvSource({
    "6.49, 0.16, -7.6495",
    "6.5, 0.16, -7.2238",
    "6.49, 0.159, -7.2306",
    "6.5, 0.159, -6.8049"
  })
  void critical_access(String stay, String share, BigDecimal sum) {
    PredictedCauti model =
        new PredictedCauti(
            HospitalType.CRITICAL_ACCESS,
            Map.of(Factor.AVERAGE_STAY_DAYS, stay, Factor.ICU_SHARE, share));
    assertThat(model.predict(Optional.empty(), 413).orElseThrow().sum()).isEqualByComparingTo(sum);
  }

  @Test
  void a_ward_without_a_location_group_is_not_predicted_for() {
    assertThat(model("67 none 3 0").predict(Optional.empty(), 913)).isEmpty();
  }

  @Test
  void what_is_missing_or_of_no_level_is_named() {
    assertThatThrownBy(
            () -> new PredictedCauti(HospitalType.CRITICAL_ACCESS, Map.of(Factor.ICU_SHARE, "0.2")))
        .hasMessage(
            "Factor average-stay-days has no value; expected one of 0 to below 6.5, at least 6.5.");
    assertThatThrownBy(() -> model("0 none 3 0"))
        .hasMessageStartingWith(
            "Value 0 of factor beds is of no level; expected one of 1 to below");
    assertThatThrownBy(() -> model("67 none 3 0").requireGroup("ward-8"))
        .hasMessageStartingWith("Value ward-8 of factor location-group is of no level");
  }

  @ParameterizedTest
  @EnumSource
  void every_table_says_what_it_is(HospitalType type) {
    CoefficientTable table = CoefficientTable.of(type);
    for (String entry : List.of("table", "version", "baseline", "source", "date", "tag")) {
      assertThat(table.legend(entry)).isNotBlank();
    }
    assertThat(table.legend("table")).isEqualTo("2022-" + type.code());
  }

  /** Each range begins where the one before it ends, and the last has no end. */
  @ParameterizedTest
  @EnumSource
  void ranges_meet_and_every_factor_has_one_level_to_compare_with(HospitalType type) {
    CoefficientTable table = CoefficientTable.of(type);
    for (Factor factor : table.factors()) {
      List<Level> levels = table.levels(factor);
      assertThat(levels).anyMatch(level -> level.estimate().signum() == 0);
      if (levels.get(0).atLeast().isPresent()) {
        for (int i = 1; i < levels.size(); i++) {
          assertThat(levels.get(i).atLeast()).isEqualTo(levels.get(i - 1).below());
        }
        assertThat(levels.get(levels.size() - 1).below()).isEmpty();
      }
    }
  }

  private static Prediction acute(String hospital, long days) {
    String[] words = hospital.split(" ", 2);
    return model(words[1]).predict(Optional.of(words[0]), days).orElseThrow();
  }

  private static PredictedCauti model(String values) {
    String[] words = values.split(" ");
    Map<Factor, String> factors = new EnumMap<>(Factor.class);
    factors.put(Factor.BEDS, words[0]);
    factors.put(Factor.MEDICAL_SCHOOL, words[1]);
    factors.put(Factor.AVERAGE_STAY_DAYS, words[2]);
    factors.put(Factor.ICU_SHARE, words[3]);
    return new PredictedCauti(HospitalType.ACUTE_CARE, factors);
  }
}
