package indwell.domain.surveillance;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.surveillance.WeeklyEstimate.Doubt;
import indwell.domain.timeline.DayCount;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * ELEC-1 to ELEC-3 and SAMP-1.
 *
 * <p>Source: NHSN chapter 7, Table 2 (from memory), with the 5 % restated in the HL7 Quality
 * Measure guide; the rows are derived from rules C19 and C24.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class CountChecksTest {

  @ParameterizedTest(name = "{0}: {1} electronic, {2} manual: {3} %, passes {4}")
  @CsvSource({
    "ELEC-1, 190, 200, -5.0, true",
    "ELEC-1, 210, 200, 5.0, true",
    "ELEC-2, 189, 200, -5.5, false",
    "ELEC-2, 211, 200, 5.5, false",
    // 5.000000005 %: what floating point may round to 5 is above it.
    "exact, 210000001, 200000000, 5.0, false",
    "exact, 19, 19, 0.0, true"
  })
  void within_five_per_cent(
      String row, long electronic, long manual, String percent, boolean passes) {
    ElectronicCheck check = new ElectronicCheck(electronic, manual);
    assertThat(check.passes()).contains(passes);
    assertThat(check.differencePercent(1)).map(Object::toString).contains(percent);
  }

  @Test
  void a_manual_count_of_0_is_no_check() {
    assertThat(new ElectronicCheck(0, 0).passes()).isEmpty();
    assertThat(new ElectronicCheck(3, 0).differencePercent(1)).isEmpty();
  }

  @Test
  @DisplayName("ELEC-3: pass, pass, fail, pass, pass, pass: validated after the 6th")
  void three_consecutive_months() {
    ValidationRun run = ValidationRun.NONE;
    List<Boolean> months = List.of(true, true, false, true, true, true);
    for (int i = 0; i < months.size(); i++) {
      run = run.then(Optional.of(months.get(i)));
      assertThat(run.validated()).isEqualTo(i == 5);
    }
    assertThat(run.months()).isEqualTo(3);
    assertThat(run.then(Optional.empty())).isEqualTo(ValidationRun.NONE);
  }

  @Test
  @DisplayName("SAMP-1: 20 of 80 sampled, 620 patient days: 155.0 (rule C24)")
  void weekly_sample() {
    assertThat(estimate(DayOfWeek.WEDNESDAY, 900, 12).catheterDays(1))
        .map(Object::toString)
        .contains("155.0");
    assertThat(
            new WeeklyEstimate(DayCount.NONE, 620, Set.of(DayOfWeek.MONDAY), 900, 12)
                .catheterDays(1))
        .isEmpty();
  }

  /** Rule C21 and rule C22 (from memory): 75 device days a month on average are enough. */
  @ParameterizedTest(name = "{0}, {1} device days in {2} months: {3}")
  @CsvSource({
    "FRIDAY, 900, 12, ''",
    "SATURDAY, 900, 12, WEEKEND",
    "SUNDAY, 900, 12, WEEKEND",
    "MONDAY, 899, 12, FEW_DEVICE_DAYS",
    "MONDAY, 75, 1, ''",
    "SUNDAY, 74, 1, WEEKEND FEW_DEVICE_DAYS"
  })
  void doubts(DayOfWeek weekday, long deviceDays, int months, String expected) {
    assertThat(estimate(weekday, deviceDays, months).doubts())
        .extracting(Doubt::name)
        .isEqualTo(expected.isEmpty() ? List.of() : List.of(expected.split(" ")));
  }

  @Test
  void the_weekdays_of_sampled_dates() {
    LocalDate monday = LocalDate.of(2026, 3, 2);
    assertThat(WeeklySample.Dates.of(List.of(monday.plusDays(7), monday, monday.plusDays(15))))
        .extracting(WeeklySample::weekdays)
        .isEqualTo(Set.of(DayOfWeek.MONDAY, DayOfWeek.TUESDAY));
  }

  private static WeeklyEstimate estimate(DayOfWeek weekday, long deviceDays, int months) {
    return new WeeklyEstimate(new DayCount(80, 20), 620, Set.of(weekday), deviceDays, months);
  }
}
