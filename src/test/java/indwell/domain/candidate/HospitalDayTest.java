package indwell.domain.candidate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.LocalDate;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Hospital days and ranges of dates. Source: NHSN FAQs (no hospital day 0; rules P2, P4). */
@DisplayNameGeneration(ReplaceUnderscores.class)
class HospitalDayTest {

  @ParameterizedTest(name = "{0} of an admission on {1} is day {2}")
  @CsvSource({
    "2024-05-30, 2024-06-01, -2",
    "2024-05-31, 2024-06-01, -1",
    "2024-06-01, 2024-06-01, 1",
    "2024-06-02, 2024-06-01, 2",
    "2024-03-01, 2024-02-28, 3",
    "2025-03-01, 2025-02-28, 2",
    "2025-01-01, 2024-12-31, 2"
  })
  void numbered_without_a_day_0(LocalDate date, LocalDate admission, int number) {
    assertThat(HospitalDay.of(date, admission).value()).isEqualTo(number);
  }

  @Test
  void there_is_no_day_0() {
    assertThatThrownBy(() -> new HospitalDay(0)).hasMessage("There is no hospital day 0");
  }

  @ParameterizedTest(name = "{1} in 14 dates from {0}: {2}")
  @CsvSource({
    "2024-02-20, 2024-02-19, false",
    "2024-02-20, 2024-02-20, true",
    "2024-02-20, 2024-03-04, true",
    "2024-02-20, 2024-03-05, false",
    "2025-02-20, 2025-03-05, true",
    "2025-02-20, 2025-03-06, false",
    "2024-12-25, 2025-01-07, true",
    "2024-12-25, 2025-01-08, false"
  })
  void a_timeframe_over_the_end_of_month_and_year(LocalDate event, LocalDate date, boolean within) {
    DateRange timeframe = RepeatTimeframe.from(event);

    assertThat(timeframe.holds(date)).isEqualTo(within);
    assertThat(timeframe.days()).isEqualTo(14);
  }

  @Test
  void a_range_does_not_end_before_it_starts() {
    LocalDate date = LocalDate.parse("2024-06-05");

    assertThat(new DateRange(date, date).days()).isEqualTo(1);
    assertThatThrownBy(() -> new DateRange(date, date.minusDays(1)))
        .hasMessage("Dates end 2024-06-04 before they start 2024-06-05");
  }

  @ParameterizedTest(name = "born {0}, {2} years on {1}")
  @CsvSource({
    "1959-06-06, 2024-06-05, 64",
    "1959-06-05, 2024-06-05, 65",
    "2004-02-29, 2005-02-28, 0",
    "2004-02-29, 2005-03-01, 1",
    "2004-02-29, 2008-02-29, 4"
  })
  void an_age_in_completed_years(LocalDate born, LocalDate date, int years) {
    assertThat(new Age.Born(born).yearsOn(date)).isEqualTo(years);
  }
}
