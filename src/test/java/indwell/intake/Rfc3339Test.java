package indwell.intake;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.LongRange;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class Rfc3339Test {

  /**
   * Source: RFC 3339 section 5.8, all five examples, with what the RFC says of them: the second and
   * the fourth pair name one instant; 00:20 ahead of UTC.
   */
  @ParameterizedTest
  @CsvSource({
    "1985-04-12T23:20:50.52Z, 1985-04-12T23:20:50.520Z",
    "1996-12-19T16:39:57-08:00, 1996-12-20T00:39:57Z",
    "1990-12-31T23:59:60Z, 1991-01-01T00:00:00Z",
    "1990-12-31T15:59:60-08:00, 1991-01-01T00:00:00Z",
    "1937-01-01T12:00:27.87+00:20, 1937-01-01T11:40:27.870Z",
  })
  void reads_the_examples_of_the_RFC(String text, Instant instant) {
    assertThat(Rfc3339.read(text)).contains(instant);
  }

  @ParameterizedTest
  @CsvSource({
    "2026-03-01t08:30:00z, 2026-03-01T08:30:00Z",
    "2026-03-01T08:30:00-00:00, 2026-03-01T08:30:00Z",
    "2026-03-01T08:30:00+14:00, 2026-02-28T18:30:00Z",
    "2026-03-01T08:30:00-14:00, 2026-03-01T22:30:00Z",
    "2026-03-01T08:30:00+13:59, 2026-02-28T18:31:00Z",
    "2026-03-01T08:30:00+05:45, 2026-03-01T02:45:00Z",
    "2026-03-01T08:30:00.1Z, 2026-03-01T08:30:00.100Z",
    "2026-03-01T08:30:00.9999999999999Z, 2026-03-01T08:30:00.999Z",
    "2026-03-01T08:30:00.0009Z, 2026-03-01T08:30:00Z",
    "2016-12-31T23:59:60.5Z, 2017-01-01T00:00:00.500Z",
    "2028-02-29T00:00:00Z, 2028-02-29T00:00:00Z",
    "0001-01-01T00:00:00Z, 0001-01-01T00:00:00Z",
  })
  void reads_every_form_that_the_contract_names(String text, Instant instant) {
    assertThat(Rfc3339.read(text)).contains(instant);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "2026-03-01",
        "2026-03",
        "2026-03-01T08:30:00",
        "2026-03-01T08:30Z",
        "2026-03-01 08:30:00Z",
        "2026-03-01T08:30:00.Z",
        "2026-03-01T08:30:00,5Z",
        "2026-03-01T24:00:00Z",
        "2026-03-01T08:60:00Z",
        "2026-03-01T08:30:61Z",
        "2026-02-29T08:30:00Z",
        "2026-02-30T08:30:00Z",
        "2026-04-31T08:30:00Z",
        "2026-00-01T08:30:00Z",
        "2026-13-01T08:30:00Z",
        "2026-03-00T08:30:00Z",
        "2026-03-01T08:30:00+14:01",
        "2026-03-01T08:30:00-14:01",
        "2026-03-01T08:30:00+15:00",
        "2026-03-01T08:30:00+01:60",
        "2026-03-01T08:30:00+0100",
        "2026-03-01T08:30:00+01",
        "2026-03-01T08:30:00+1:00",
        "2026-03-01T08:30:00 01:00",
        "2026-03-01T08:30:00Z ",
        " 2026-03-01T08:30:00Z",
        "2026-03-01T08:30:00ZZ",
        "+2026-03-01T08:30:00Z",
        "-026-03-01T08:30:00Z",
        "12026-03-01T08:30:00Z",
        "2026-3-01T08:30:00Z",
        "2026-060T08:30:00Z",
        "2026-W10-1T08:30:00Z",
        "20260301T083000Z",
        "２０２６-03-01T08:30:00Z",
        "2026-03-01T08:30:00.٣Z",
        "2026-03-01T08:30:00Z[UTC]",
        "now",
        "1740787200",
      })
  void refuses_what_is_no_RFC_3339_date_time(String text) {
    assertThat(Rfc3339.read(text)).isEmpty();
  }

  /** Source: java.time as an independent reader of the same times. */
  @Property(seed = "20261125")
  void agrees_with_the_calendar_of_the_platform(
      @ForAll @LongRange(min = -62_135_596_800L, max = 253_402_300_799L) long second,
      @ForAll @IntRange(max = 999) int millisecond,
      @ForAll @IntRange(min = -14 * 60, max = 14 * 60) int offsetMinutes) {
    Instant instant = Instant.ofEpochSecond(second, millisecond * 1_000_000L);
    OffsetDateTime local = instant.atOffset(ZoneOffset.ofTotalSeconds(offsetMinutes * 60));
    if (local.getYear() < 1 || local.getYear() > 9999) {
      return;
    }
    String text = DateTimeFormatter.ofPattern("uuuu-MM-dd'T'HH:mm:ss.SSSxxx").format(local);
    assertThat(Rfc3339.read(text)).contains(instant);
  }

  @Property(seed = "20261125")
  void never_throws(@ForAll String text) {
    assertThat(Rfc3339.read(text)).isNotNull();
  }
}
