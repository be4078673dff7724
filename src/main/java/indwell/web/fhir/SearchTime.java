package indwell.web.fhir;

import indwell.port.TimeTest;
import indwell.port.TimeTest.Prefix;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.Year;
import java.time.YearMonth;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.temporal.ChronoUnit;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Reads the value of a date parameter: a prefix, and a date or time of any precision, which stands
 * for the whole stretch from its first instant to its last.
 *
 * <p>Source: https://hl7.org/fhir/R4/search.html#date
 *
 * @param zone of what names no offset
 * @param now what "about" is measured from
 */
record SearchTime(ZoneId zone, Instant now) {
  /** "About" is a tenth of the way from then to now. */
  private static final long ABOUT = 10;

  private static final Pattern SPACE_FOR_PLUS = Pattern.compile(" (?=\\d\\d:\\d\\d$)");
  private static final Pattern TEXT =
      Pattern.compile(
          "(?<prefix>[a-z]{2})?(?<year>\\d{4})(?:-(?<month>\\d\\d)(?:-(?<day>\\d\\d)"
              + "(?:T(?<time>\\d\\d:\\d\\d(?<second>:\\d\\d(?<fraction>\\.\\d{1,9})?)?)"
              + "(?<offset>Z|[+-]\\d\\d:\\d\\d)?)?)?)?");

  /** The comparison; empty when the text is none. */
  Optional<TimeTest> read(String text) {
    // A plus sign that was not escaped in the query has become a space.
    Matcher parts = TEXT.matcher(SPACE_FOR_PLUS.matcher(text).replaceFirst("+"));
    if (!parts.matches()) {
      return Optional.empty();
    }
    try {
      Prefix prefix =
          Optional.ofNullable(parts.group("prefix"))
              .map(name -> Prefix.valueOf(name.toUpperCase(Locale.ROOT)))
              .orElse(Prefix.EQ);
      ZonedDateTime from = start(parts);
      ZonedDateTime to = end(parts, from);
      return Optional.of(
          widened(prefix, from.toInstant().toEpochMilli(), to.toInstant().toEpochMilli()));
    } catch (IllegalArgumentException | DateTimeException e) {
      // No such prefix, or no calendar has this date or time.
      return Optional.empty();
    }
  }

  private TimeTest widened(Prefix prefix, long low, long high) {
    long about = prefix == Prefix.AP ? Math.abs(now.toEpochMilli() - low) / ABOUT : 0;
    return new TimeTest(prefix, low - about, high + about);
  }

  private ZonedDateTime start(Matcher parts) {
    if (parts.group("time") != null) {
      LocalDateTime local =
          LocalDateTime.parse(
              parts.group("year")
                  + "-"
                  + parts.group("month")
                  + "-"
                  + parts.group("day")
                  + "T"
                  + parts.group("time"));
      ZoneId given = Optional.ofNullable(parts.group("offset")).map(ZoneId::of).orElse(zone);
      return local.truncatedTo(ChronoUnit.MILLIS).atZone(given);
    }
    int year = Integer.parseInt(parts.group("year"));
    int month = number(parts.group("month"));
    int day = number(parts.group("day"));
    return LocalDate.of(year, month, day).atStartOfDay(zone);
  }

  private static int number(String digits) {
    return digits == null ? 1 : Integer.parseInt(digits);
  }

  private static ZonedDateTime end(Matcher parts, ZonedDateTime from) {
    if (parts.group("fraction") != null) {
      return from.plus(1, ChronoUnit.MILLIS);
    }
    if (parts.group("second") != null) {
      return from.plusSeconds(1);
    }
    if (parts.group("time") != null) {
      return from.plusMinutes(1);
    }
    LocalDate date = from.toLocalDate();
    LocalDate next =
        parts.group("day") != null
            ? date.plusDays(1)
            : parts.group("month") != null
                ? YearMonth.from(date).plusMonths(1).atDay(1)
                : Year.from(date).plusYears(1).atDay(1);
    return next.atStartOfDay(from.getZone());
  }
}
