package indwell.adapter.upstream;

import java.time.Clock;
import java.time.DateTimeException;
import java.time.Duration;
import java.time.Instant;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.util.Optional;

/**
 * How long a server asks to be left alone: seconds, or a date, which is measured by the server's
 * own clock where it tells the time. Source: RFC 9110, sections 10.2.3 and 5.6.7.
 */
final class RetryAfter {
  /** Whoever asks for longer is asked again after this. */
  static final Duration LONGEST = Duration.ofDays(1);

  private RetryAfter() {}

  static Optional<Duration> of(Optional<String> retryAfter, Optional<String> date, Clock clock) {
    return retryAfter
        .map(String::strip)
        .flatMap(
            text ->
                text.matches("\\d{1,10}")
                    ? Optional.of(Duration.ofSeconds(Long.parseLong(text)))
                    : time(text)
                        .map(
                            until ->
                                Duration.between(
                                    date.flatMap(RetryAfter::time).orElseGet(clock::instant),
                                    until)))
        .map(wait -> wait.isNegative() ? Duration.ZERO : wait)
        .map(wait -> wait.compareTo(LONGEST) > 0 ? LONGEST : wait);
  }

  private static Optional<Instant> time(String text) {
    try {
      return Optional.of(
          ZonedDateTime.parse(text, DateTimeFormatter.RFC_1123_DATE_TIME).toInstant());
    } catch (DateTimeException unreadable) {
      return Optional.empty();
    }
  }
}
