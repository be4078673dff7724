package indwell.domain.time;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Source of the transitions: IANA time zone database, as shipped with the JDK. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class FacilityCalendarTest {

  @ParameterizedTest(name = "{0}, {1} {2} is {3}")
  @CsvSource({
    // in a gap the first instant after it
    "Europe/Berlin, 2026-03-29, 01:59, 2026-03-29T00:59:00Z",
    "Europe/Berlin, 2026-03-29, 02:00, 2026-03-29T01:00:00Z",
    "Europe/Berlin, 2026-03-29, 02:59, 2026-03-29T01:00:00Z",
    "Europe/Berlin, 2026-03-29, 03:00, 2026-03-29T01:00:00Z",
    "America/New_York, 2026-03-08, 02:30, 2026-03-08T07:00:00Z",
    "Australia/Lord_Howe, 2026-10-04, 02:15, 2026-10-03T15:30:00Z",
    // in an overlap the earlier one
    "Europe/Berlin, 2026-10-25, 01:59, 2026-10-24T23:59:00Z",
    "Europe/Berlin, 2026-10-25, 02:00, 2026-10-25T00:00:00Z",
    "Europe/Berlin, 2026-10-25, 02:59, 2026-10-25T00:59:00Z",
    "Europe/Berlin, 2026-10-25, 03:00, 2026-10-25T02:00:00Z",
    "America/New_York, 2026-11-01, 01:30, 2026-11-01T05:30:00Z",
    "Australia/Lord_Howe, 2026-04-05, 01:45, 2026-04-04T14:45:00Z",
    // far from Greenwich, and by quarters of an hour
    "Asia/Kathmandu, 2026-06-01, 00:00, 2026-05-31T18:15:00Z",
    "Pacific/Kiritimati, 2026-06-01, 00:00, 2026-05-31T10:00:00Z",
    "Etc/GMT+12, 2026-06-01, 00:00, 2026-06-01T12:00:00Z",
    "UTC, 2028-02-29, 12:00, 2028-02-29T12:00:00Z",
  })
  void local_times(String zone, LocalDate date, LocalTime time, Instant instant) {
    assertThat(calendar(zone).at(date, time)).isEqualTo(instant);
  }

  @ParameterizedTest(name = "{0}, {1} begins at {2}")
  @CsvSource({
    "America/Sao_Paulo, 2018-11-04, 2018-11-04T03:00:00Z",
    "America/Sao_Paulo, 2018-02-18, 2018-02-18T03:00:00Z",
    "Pacific/Apia, 2011-12-29, 2011-12-29T10:00:00Z",
    "Pacific/Apia, 2011-12-31, 2011-12-30T10:00:00Z",
    "Europe/Berlin, 2026-03-30, 2026-03-29T22:00:00Z",
    "Asia/Kathmandu, 2028-02-29, 2028-02-28T18:15:00Z",
  })
  void starts_of_dates(String zone, LocalDate date, Instant instant) {
    assertThat(calendar(zone).startOf(date)).isEqualTo(instant);
    assertThat(calendar(zone).dateOf(instant)).isEqualTo(date);
    assertThat(calendar(zone).dateOf(instant.minusMillis(1))).isBefore(date);
  }

  @Test
  void a_date_that_the_zone_left_out_is_no_longer_than_an_instant() {
    FacilityCalendar apia = calendar("Pacific/Apia");
    LocalDate leftOut = LocalDate.of(2011, 12, 30);

    assertThat(apia.startOf(leftOut)).isEqualTo(apia.startOf(leftOut.plusDays(1)));
  }

  @ParameterizedTest(name = "{1} is on {2} in {0}")
  @CsvSource({
    "UTC, 2026-06-01T23:59:59.999Z, 2026-06-01",
    "UTC, 2026-06-02T00:00:00Z, 2026-06-02",
    "Pacific/Kiritimati, 2026-06-01T09:59:59.999Z, 2026-06-01",
    "Pacific/Kiritimati, 2026-06-01T10:00:00Z, 2026-06-02",
    "Etc/GMT+12, 2026-06-02T11:59:59.999Z, 2026-06-01",
    "Asia/Kathmandu, 2026-06-01T18:15:00Z, 2026-06-02",
    "America/Sao_Paulo, 2018-11-04T02:59:59.999Z, 2018-11-03",
  })
  void dates_are_those_of_the_zone(String zone, Instant instant, LocalDate date) {
    assertThat(calendar(zone).dateOf(instant)).isEqualTo(date);
  }

  private static FacilityCalendar calendar(String zone) {
    return new FacilityCalendar(ZoneId.of(zone));
  }
}
