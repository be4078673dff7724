package indwell.adapter.upstream;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.Optional;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Source: RFC 9110, section 10.2.3 (Retry-After) and 5.6.7 (dates), with its examples. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class RetryAfterTest {
  private static final Clock CLOCK =
      Clock.fixed(Instant.parse("1999-12-31T23:59:00Z"), ZoneOffset.UTC);

  private static Optional<Duration> wait(String retryAfter, String... date) {
    return RetryAfter.of(
        Optional.of(retryAfter), date.length == 0 ? Optional.empty() : Optional.of(date[0]), CLOCK);
  }

  @Test
  void seconds_and_dates_are_read() {
    assertThat(wait("120")).contains(Duration.ofSeconds(120));
    assertThat(wait("0")).contains(Duration.ZERO);
    assertThat(wait("Fri, 31 Dec 1999 23:59:59 GMT")).contains(Duration.ofSeconds(59));
  }

  @Test
  void the_servers_own_clock_decides() {
    assertThat(wait("Fri, 31 Dec 1999 23:59:59 GMT", "Fri, 31 Dec 1999 23:59:57 GMT"))
        .contains(Duration.ofSeconds(2));
  }

  @Test
  void what_is_past_is_now_what_is_absurd_is_a_day_and_what_cannot_be_read_is_nothing() {
    assertThat(wait("Fri, 31 Dec 1999 23:58:59 GMT")).contains(Duration.ZERO);
    assertThat(wait("99999999")).contains(RetryAfter.LONGEST);
    assertThat(wait("soon")).isEmpty();
    assertThat(wait("-1")).isEmpty();
    assertThat(RetryAfter.of(Optional.empty(), Optional.empty(), CLOCK)).isEmpty();
  }
}
