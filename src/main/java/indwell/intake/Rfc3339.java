package indwell.intake;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Optional;

/**
 * Reads a date-time of RFC 3339 section 5.6, which always has an offset from UTC.
 *
 * <p>Lower-case {@code t} and {@code z} are read, as is {@code -00:00}. Any number of fraction
 * digits is read and cut off after the millisecond. Second 60 is the next second. Offsets go up to
 * 14:00, as in FHIR. A space for the {@code T}, hour 24, a date that no calendar has and a time
 * without offset are not read.
 */
public final class Rfc3339 {
  private static final int DATE_LENGTH = 10;
  private static final int TO_SECOND_LENGTH = 19;
  private static final int OFFSET_LENGTH = 6;
  private static final int MAX_OFFSET_MINUTES = 14 * 60;
  private static final int UNREADABLE = Integer.MIN_VALUE;

  private Rfc3339() {}

  /** The instant, to the millisecond; empty when the text is no such date-time. */
  public static Optional<Instant> read(String text) {
    if (text.length() <= TO_SECOND_LENGTH || !isSeparated(text)) {
      return Optional.empty();
    }
    int offsetAt = endOfFraction(text);
    int offsetMinutes = offsetMinutes(text, offsetAt);
    int secondOfDay = secondOfDay(text);
    Optional<LocalDate> date = date(text);
    if (offsetMinutes == UNREADABLE || secondOfDay == UNREADABLE || date.isEmpty()) {
      return Optional.empty();
    }
    long second = date.get().toEpochDay() * 86_400 + secondOfDay - offsetMinutes * 60L;
    return Optional.of(Instant.ofEpochSecond(second, millisecond(text, offsetAt) * 1_000_000L));
  }

  private static boolean isSeparated(String text) {
    return text.charAt(4) == '-'
        && text.charAt(7) == '-'
        && (text.charAt(DATE_LENGTH) == 'T' || text.charAt(DATE_LENGTH) == 't')
        && text.charAt(13) == ':'
        && text.charAt(16) == ':';
  }

  private static Optional<LocalDate> date(String text) {
    int year = number(text, 0, 4);
    int month = number(text, 5, 7);
    int day = number(text, 8, DATE_LENGTH);
    if (year < 0) {
      return Optional.empty();
    }
    try {
      return Optional.of(LocalDate.of(year, month, day));
    } catch (DateTimeException e) {
      return Optional.empty();
    }
  }

  /** 86,400 for second 60 of the day's last minute. */
  private static int secondOfDay(String text) {
    int hour = number(text, 11, 13);
    int minute = number(text, 14, 16);
    int second = number(text, 17, TO_SECOND_LENGTH);
    boolean readable =
        hour >= 0 && hour <= 23 && minute >= 0 && minute <= 59 && second >= 0 && second <= 60;
    return readable ? hour * 3600 + minute * 60 + second : UNREADABLE;
  }

  /** Where the offset begins; a point without a digit behind it counts as no fraction. */
  private static int endOfFraction(String text) {
    int at = TO_SECOND_LENGTH;
    if (text.charAt(at) != '.') {
      return at;
    }
    at++;
    while (at < text.length() && isDigit(text.charAt(at))) {
      at++;
    }
    return at == TO_SECOND_LENGTH + 1 ? TO_SECOND_LENGTH : at;
  }

  private static int millisecond(String text, int offsetAt) {
    int millisecond = 0;
    for (int i = TO_SECOND_LENGTH + 1; i <= TO_SECOND_LENGTH + 3; i++) {
      millisecond = millisecond * 10 + (i < offsetAt ? text.charAt(i) - '0' : 0);
    }
    return millisecond;
  }

  private static int offsetMinutes(String text, int at) {
    String offset = text.substring(at);
    if (offset.equals("Z") || offset.equals("z")) {
      return 0;
    }
    if (offset.length() != OFFSET_LENGTH
        || "+-".indexOf(offset.charAt(0)) < 0
        || offset.charAt(3) != ':') {
      return UNREADABLE;
    }
    int hours = number(offset, 1, 3);
    int minutes = number(offset, 4, 6);
    int total = hours * 60 + minutes;
    if (hours < 0 || minutes < 0 || minutes > 59 || total > MAX_OFFSET_MINUTES) {
      return UNREADABLE;
    }
    return offset.charAt(0) == '-' ? -total : total;
  }

  /** The digits of a range as a number; -1 when another character is among them. */
  private static int number(String text, int from, int to) {
    int number = 0;
    for (int i = from; i < to; i++) {
      if (!isDigit(text.charAt(i))) {
        return -1;
      }
      number = number * 10 + (text.charAt(i) - '0');
    }
    return number;
  }

  private static boolean isDigit(char c) {
    return c >= '0' && c <= '9';
  }
}
