package indwell.domain.time;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

@DisplayNameGeneration(ReplaceUnderscores.class)
class DayNumberTest {

  @Test
  void it_starts_at_one() {
    assertThat(DayNumber.FIRST).isEqualTo(new DayNumber(1));
    assertThatThrownBy(() -> new DayNumber(0)).hasMessage("Day numbers start at 1, not 0");
  }

  @Test
  void a_catheter_is_on_day_1_in_place_through_the_day_it_was_put_in_whatever_the_hour() {
    FacilityCalendar berlin = new FacilityCalendar(ZoneId.of("Europe/Berlin"));
    Instant putIn = berlin.at(LocalDate.of(2026, 3, 28), LocalTime.of(23, 59));

    assertThat(DayNumber.inPlace(putIn, putIn, berlin)).isEqualTo(DayNumber.FIRST);
    assertThat(DayNumber.inPlace(putIn, putIn.plusSeconds(59), berlin)).isEqualTo(DayNumber.FIRST);
    assertThat(DayNumber.inPlace(putIn, putIn.plusSeconds(60), berlin).value()).isEqualTo(2);
    // The day that summer time begins has 23 hours.
    Instant endOfShortDay = berlin.startOf(LocalDate.of(2026, 3, 30)).minusMillis(1);
    assertThat(DayNumber.inPlace(putIn, endOfShortDay, berlin).value()).isEqualTo(2);
    assertThat(DayNumber.inPlace(putIn, endOfShortDay.plusMillis(1), berlin).value()).isEqualTo(3);
    assertThatThrownBy(() -> DayNumber.inPlace(endOfShortDay, putIn, berlin))
        .hasMessage("Day numbers start at 1, not 0");
  }

  @Test
  void it_is_ordered() {
    DayNumber third = new DayNumber(3);

    assertThat(third.isAtLeast(DayNumber.FIRST.next())).isTrue();
    assertThat(third.isAtLeast(third)).isTrue();
    assertThat(third.isAtLeast(third.next())).isFalse();
    assertThat(third).isGreaterThan(DayNumber.FIRST).isLessThan(third.next());
  }
}
