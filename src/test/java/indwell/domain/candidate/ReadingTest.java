package indwell.domain.candidate;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.event.Ward;
import indwell.domain.time.DayNumber;
import indwell.domain.timeline.CatheterDay;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.Optional;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Bounds of FEVER-1 and the words of DEVICE-1.
 *
 * <p>Source: NHSN chapter 7, Table 1, rules U3 and U5: above 38.0 Cel, below 36.0 Cel.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ReadingTest {
  private static final LocalDate DAY = LocalDate.parse("2024-06-05");

  @ParameterizedTest
  @CsvSource({
    "38.1, true, false",
    "38.0, false, false",
    "37.0, false, false",
    "36.0, false, false",
    "35.9, false, true"
  })
  void a_temperature_shows_fever_or_hypothermia_and_nothing_else(
      BigDecimal celsius, boolean fever, boolean hypothermia) {
    Finding reading = new Finding.Reading(DAY, new Temperature(celsius, Temperature.Unit.CELSIUS));

    assertThat(reading.shows(Symptom.FEVER)).isEqualTo(fever);
    assertThat(reading.shows(Symptom.HYPOTHERMIA)).isEqualTo(hypothermia);
    assertThat(reading.shows(Symptom.DYSURIA)).isFalse();
  }

  @Test
  void the_association_says_which_catheter_day_it_is() {
    CatheterDay third =
        new CatheterDay(
            DAY,
            Optional.of(DayNumber.FIRST.next().next()),
            true,
            true,
            Optional.of(new Ward("A")));

    assertThat(DeviceAssociation.of(Optional.of(third)).trace().finding())
        .endsWith("the date of event is eligible. It is catheter day 3.");
    assertThat(DeviceAssociation.of(Optional.empty()).trace().finding())
        .endsWith("the date of event is not eligible.");
  }
}
