package indwell.domain.rule;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import indwell.domain.event.PatientMeasurement.UrineOutput;
import java.math.BigDecimal;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Which rates are low. Stage 1 is less than 0.5 mL/kg/h (KDIGO 2012 AKI guideline, Table 2,
 * restated, MSD Manual); of the newborn, stage 0 is more than 1 (BMC Nephrol 2020,
 * doi:10.1186/s12882-020-01945-z, Table 1, restated).
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class UrineLimitTest {
  @ParameterizedTest
  @CsvSource({
    "MEAN, 0.4999, true",
    "MEAN, 0.5, false",
    "MEAN, 0.5001, false",
    "CONSECUTIVE, 0.4999, true",
    "CONSECUTIVE, 0.50, false",
    "CONSECUTIVE, 0.5001, false",
    "NEONATAL, 0.9999, true",
    "NEONATAL, 1.0, true",
    "NEONATAL, 1.0001, false",
  })
  void a_rate_is_low_on_one_side_of_the_limit(UrineReading reading, String rate, boolean low) {
    assertThat(reading.limit().makesLow(new BigDecimal(rate))).isEqualTo(low);
  }

  /** Twenty-four charted hours of a kilogram, so that the volume of each is the rate. */
  @ParameterizedTest
  @CsvSource({
    "MEAN, 0.4999", "MEAN, 0.5", "MEAN, 0.5001",
    "CONSECUTIVE, 0.4999", "CONSECUTIVE, 0.5", "CONSECUTIVE, 0.5001",
    "NEONATAL, 0.9999", "NEONATAL, 1", "NEONATAL, 1.0001",
  })
  void a_day_of_a_rate_has_a_stage_above_0_just_when_the_rate_is_low(
      UrineReading reading, String rate) {
    String hours =
        IntStream.range(1, 25)
            .mapToObj(hour -> "06-%02d %02d:00".formatted(1 + hour / 24, hour % 24))
            .map(end -> end + " urine " + rate + " hours=1")
            .collect(Collectors.joining("\n"));
    List<UrineOutput> day = TimelineSentence.of(hours).timeline().urine();

    assertThat(stage(reading, day) > 0).isEqualTo(reading.limit().makesLow(new BigDecimal(rate)));
  }

  private static int stage(UrineReading reading, List<UrineOutput> urine) {
    Instant end = urine.get(urine.size() - 1).at();
    Optional<UrineStage> stage =
        switch (reading) {
          case MEAN -> new MeanUrineOutput(urine, end, BigDecimal.ONE).stage();
          case CONSECUTIVE -> new ConsecutiveUrineOutput(urine, end, BigDecimal.ONE).stage();
          case NEONATAL -> new NeonatalUrineOutput(urine, end, BigDecimal.ONE).stage();
        };
    return stage.orElseThrow().stage();
  }
}
