package indwell.domain.rule;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.TimelineSentence;
import indwell.domain.event.PatientMeasurement.UrineOutput;
import java.math.BigDecimal;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * The stages of low urine output, 70 kg and hourly charting unless said. Source: KDIGO 2012 AKI
 * guideline, Table 2 (doi:10.1038/kisup.2012.1); the cases UC1 to UC10 are derived from rules O1 to
 * O4. A dash is no result.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class UrineOutputCheckValuesTest {

  private static final BigDecimal KG = new BigDecimal("70");

  @ParameterizedTest(name = "{0}: {1} mL each hour: hour by hour {2}, by the mean {3} ({4})")
  @CsvSource({
    "UO-1 (UC1), 6*30, 1, 1, 0.4286",
    "UO-2 (UC2), 5*30, 0, -, -",
    "UO-3 (UC3), 6*35, 0, 0, 0.5000",
    "UO-4 (UC4), 3*30 1*36 2*30, 0, 1, 0.4429",
    "UO-5 (UC5), 12*30, 2, 2, 0.4286",
    "UO-6 (UC6), 11*0, 1, 1, 0.0000",
    "UO-7 (UC7), 12*0, 3, 3, 0.0000",
    "UO-8 (UC8), 24*20, 3, 3, 0.2857",
    "UO-9 (UC9), 24*21, 2, 2, 0.3000",
  })
  void hourly(String row, String volumes, String consecutive, String mean, String rate) {
    List<UrineOutput> hours = hours(volumes);

    Instant end = hours.get(hours.size() - 1).at();
    assertThat(stage(new ConsecutiveUrineOutput(hours, end, KG).stage())).isEqualTo(consecutive);
    Optional<UrineStage> stage = new MeanUrineOutput(hours, end, KG).stage();
    assertThat(stage(stage)).isEqualTo(mean);
    assertThat(stage.map(one -> one.ratePerKgHour().toPlainString()).orElse("-")).isEqualTo(rate);
  }

  @Test
  @DisplayName("UO-10 (UC10): one entry of 200 mL over 6 h: not applicable; stage 1 by the mean")
  void one_long_entry() {
    List<UrineOutput> entry = urine("06-01 06:00 urine 200 hours=6");

    assertThat(new ConsecutiveUrineOutput(entry, entry.get(0).at(), KG).stage()).isEmpty();
    assertThat(new MeanUrineOutput(entry, entry.get(0).at(), KG).stage())
        .contains(new UrineStage(UrineReading.MEAN, 1, 6, new BigDecimal("0.4762"), KG));
  }

  @ParameterizedTest(name = "UO-11 (rule O8, neonatal KDIGO): mean {0} mL/kg/h is stage {1}")
  @CsvSource({"1.0, 1", "0.5, 2", "0.3, 3", "1.01, 0", "0.51, 1", "0.31, 2", "0, 3"})
  void neonates(BigDecimal rate, int stage) {
    // Source: BMC Nephrol 2020, doi:10.1186/s12882-020-01945-z, Table 1. 24 hours of a child of 3.5
    // kg.
    BigDecimal kg = new BigDecimal("3.5");
    List<UrineOutput> day = hours("24*" + rate.multiply(kg).stripTrailingZeros().toPlainString());

    assertThat(new NeonatalUrineOutput(day, day.get(23).at(), kg).stage())
        .contains(new UrineStage(UrineReading.NEONATAL, stage, 24, rate.setScale(4), kg));
  }

  @Test
  void a_day_of_a_neonate_with_a_gap_is_no_result() {
    List<UrineOutput> day = hours("24*1");

    assertThat(new NeonatalUrineOutput(day.subList(1, 24), day.get(23).at(), KG).stage()).isEmpty();
  }

  @Test
  void a_gap_breaks_a_run_of_hours() {
    // Hour by hour a run has to reach back without a gap (rule O1, the reading UOcons).
    List<UrineOutput> gap =
        urine("06-01 05:00 urine 0 hours=1\n06-01 06:01 urine 0 hours=1\n" + sixLow());
    assertThat(stage(new ConsecutiveUrineOutput(gap, at("06-01 13:00"), KG).stage()))
        .isEqualTo("1");
    assertThat(stage(new ConsecutiveUrineOutput(gap, at("06-01 12:00"), KG).stage()))
        .isEqualTo("0");
  }

  /** Six hours of 30 mL from 07:00 to 13:00. */
  private static String sixLow() {
    StringBuilder lines = new StringBuilder();
    for (int hour = 8; hour <= 13; hour++) {
      lines.append(String.format("06-01 %02d:00 urine 30 hours=1%n", hour));
    }
    return lines.toString();
  }

  private static Instant at(String time) {
    return TimelineSentence.of("").instant(time);
  }

  @Test
  void a_gap_of_a_minute_leaves_the_window_without_a_result() {
    assertThat(stageAt6("06-01 03:00 urine 10 hours=3", "06-01 06:00 urine 10 from=06-01_03:01"))
        .isEmpty();
    assertThat(stageAt6("06-01 03:00 urine 10 hours=3", "06-01 06:00 urine 10 from=06-01_03:00"))
        .contains(1);
  }

  @Test
  void overlapping_intervals_add_their_volumes_and_cover_the_time_once() {
    // 70 kg over 6 h is stage 1 below 210 mL.
    assertThat(stageAt6("06-01 06:00 urine 105 hours=6", "06-01 05:00 urine 105 hours=4"))
        .contains(0);
    assertThat(stageAt6("06-01 06:00 urine 105 hours=6", "06-01 05:00 urine 104 hours=4"))
        .contains(1);
    assertThat(stageAt6("06-01 06:00 urine 1 hours=3", "06-01 06:00 urine 1 hours=3")).isEmpty();
  }

  @Test
  void a_volume_that_straddles_the_edge_is_split_in_proportion_to_time() {
    // Of 12 hours with 420 mL the last 6 hold 210: exactly 0.5, which is not below 0.5.
    assertThat(stageAt6("06-01 06:00 urine 420 hours=12")).contains(0);
    assertThat(stageAt6("06-01 06:00 urine 419 hours=12")).contains(2);
    // Of 9 hours with 314 mL the last 6 hold 209.33: below 0.5, without rounding to 210.
    assertThat(stageAt6("06-01 06:00 urine 314 hours=9")).contains(1);
    assertThat(stageAt6("06-01 06:00 urine 315 hours=9")).contains(0);
  }

  @Test
  void an_interval_that_ends_after_the_window_is_not_known_in_it() {
    List<UrineOutput> both = urine("06-01 06:00 urine 10 hours=6\n06-01 07:00 urine 900 hours=7");

    assertThat(new MeanUrineOutput(both, both.get(0).at(), KG).stage().map(UrineStage::stage))
        .contains(1);
  }

  private static Optional<Integer> stageAt6(String... lines) {
    List<UrineOutput> intervals = urine(String.join("\n", lines));
    return new MeanUrineOutput(intervals, TimelineSentence.of("").instant("06-01 06:00"), KG)
        .stage()
        .map(UrineStage::stage);
  }

  private static List<UrineOutput> hours(String volumes) {
    StringBuilder lines = new StringBuilder();
    int hour = 0;
    for (String part : volumes.split(" ")) {
      String[] countAndVolume = part.split("\\*");
      for (int i = 0; i < Integer.parseInt(countAndVolume[0]); i++) {
        hour++;
        lines.append(
            String.format(
                "06-%02d %02d:00 urine %s hours=1%n", 1 + hour / 24, hour % 24, countAndVolume[1]));
      }
    }
    return urine(lines.toString());
  }

  private static List<UrineOutput> urine(String lines) {
    return TimelineSentence.of(lines).events().stream().map(UrineOutput.class::cast).toList();
  }

  private static String stage(Optional<UrineStage> stage) {
    return stage.map(one -> String.valueOf(one.stage())).orElse("-");
  }
}
