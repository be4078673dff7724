package indwell.domain.surveillance;

import static org.assertj.core.api.Assertions.assertThat;

import java.math.BigDecimal;
import java.util.Optional;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Rates and utilisation ratios.
 *
 * <p>Source: NHSN chapter 7, Table 3; the published rows name theirs.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class SurveillanceRatesTest {

  // Sources: RATE-1, RATE-2 Donnelly 2021 (doi:10.1097/pq9.0000000000000466); RATE-3 to RATE-6
  // Dudeck 2015, Table 5 (doi:10.1016/j.ajic.2014.11.014). RATE-5 is exactly 2.64996.
  @ParameterizedTest(name = "{0}: {1} events in {2} catheter days are {4} per 1,000")
  @CsvSource({
    "RATE-1, 9, 15425, 2, 0.58",
    "RATE-1, 9, 15425, 4, 0.5835",
    "RATE-2, 9, 10234, 2, 0.88",
    "RATE-2, 9, 10234, 4, 0.8794",
    "RATE-3, 369, 76619, 1, 4.8",
    "RATE-4, 2482, 470403, 1, 5.3",
    "RATE-5, 33, 12453, 1, 2.6",
    "RATE-6, 0, 1475, 1, 0.0",
  })
  void published_rates(String row, long events, long days, int decimals, BigDecimal expected) {
    assertThat(SurveillanceRates.perThousand(events, days, decimals)).contains(expected);
  }

  @ParameterizedTest(name = "RATE-7 (rule C33): {0} events in no catheter days have no rate")
  @CsvSource({"0", "1", "9"})
  void no_rate_without_catheter_days(long events) {
    assertThat(SurveillanceRates.perThousand(events, 0, 2)).isEqualTo(Optional.empty());
  }

  @Test
  @DisplayName("DUR-1: 26 catheter days in 100 patient days (HL7 HAI, sample summary)")
  void device_utilisation() {
    assertThat(SurveillanceRates.deviceUtilisation(26, 100, 2)).contains(new BigDecimal("0.26"));
  }

  @Test
  void device_utilisation_rounds_half_up_and_is_undefined_without_patient_days() {
    assertThat(SurveillanceRates.deviceUtilisation(1, 64, 5)).contains(new BigDecimal("0.01563"));
    assertThat(SurveillanceRates.deviceUtilisation(0, 0, 6)).isEmpty();
  }

  @Test
  @DisplayName("SAMP-1: 20 of 80 sampled, 620 patient days (rule C24)")
  void weekly_sample() {
    assertThat(SurveillanceRates.estimatedCatheterDays(20, 80, 620, 1))
        .contains(new BigDecimal("155.0"));
    assertThat(SurveillanceRates.estimatedCatheterDays(0, 0, 620, 1)).isEmpty();
  }
}
