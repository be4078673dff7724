package indwell.adapter.validation;

import java.time.LocalDate;
import java.time.Month;
import java.time.Year;
import java.util.OptionalLong;

/**
 * A time as FHIR writes it, to the second or finer, of this century, with an offset that FHIR
 * allows: {@code 2026-03-29T01:30:00.5+01:00}. Read character by character, as half of all leaves
 * are times.
 */
final class LeafTime {
  private static final String FORM = "20dd-dd-ddTdd:dd:dd";
  private static final int MOST_DECIMALS = 9;
  private static final int OFFSET = "+dd:dd".length();
  private static final int LAST_OFFSET_HOUR = 14;
  private static final int SECONDS_A_DAY = 86_400;
  private static final long NANOS = 1_000_000_000;

  private LeafTime() {}

  /** Nanoseconds since 1970 in UTC, when the text is a time that exists. */
  static OptionalLong nanos(String text) {
    if (!begins(text)) {
      return OptionalLong.empty();
    }
    int offsetAt = afterDecimals(text);
    if (offsetAt < 0 || !isOffset(text, offsetAt) || !exists(text)) {
      return OptionalLong.empty();
    }
    return OptionalLong.of(
        (second(text) - offset(text, offsetAt)) * NANOS + decimals(text, offsetAt));
  }

  private static boolean begins(String text) {
    if (text.length() <= FORM.length()) {
      return false;
    }
    for (int i = 0; i < FORM.length(); i++) {
      char form = FORM.charAt(i);
      if (form == 'd' ? !isDigit(text.charAt(i)) : text.charAt(i) != form) {
        return false;
      }
    }
    return true;
  }

  /** Where the offset begins; negative when there is a point without one to nine decimals. */
  private static int afterDecimals(String text) {
    int at = FORM.length();
    if (text.charAt(at) != '.') {
      return at;
    }
    int first = at + 1;
    at = first;
    while (at < text.length() && isDigit(text.charAt(at))) {
      at++;
    }
    return at > first && at - first <= MOST_DECIMALS ? at : -1;
  }

  private static boolean isOffset(String text, int at) {
    if (text.length() == at + 1) {
      return text.charAt(at) == 'Z';
    }
    if (text.length() != at + OFFSET || text.charAt(at + 3) != ':') {
      return false;
    }
    for (int i = 1; i < OFFSET; i++) {
      if (i != 3 && !isDigit(text.charAt(at + i))) {
        return false;
      }
    }
    int hour = two(text, at + 1);
    int minute = two(text, at + 4);
    return (text.charAt(at) == '+' || text.charAt(at) == '-')
        && minute < 60
        && (hour < LAST_OFFSET_HOUR || (hour == LAST_OFFSET_HOUR && minute == 0));
  }

  private static boolean exists(String text) {
    int month = two(text, 5);
    int day = two(text, 8);
    return month >= 1
        && month <= 12
        && day >= 1
        && day <= Month.of(month).length(Year.isLeap(year(text)))
        && two(text, 11) < 24
        && two(text, 14) < 60
        && two(text, 17) < 60;
  }

  private static long second(String text) {
    long day = LocalDate.of(year(text), two(text, 5), two(text, 8)).toEpochDay();
    int ofDay = two(text, 11) * 3_600 + two(text, 14) * 60 + two(text, 17);
    return day * SECONDS_A_DAY + ofDay;
  }

  private static int offset(String text, int at) {
    if (text.charAt(at) == 'Z') {
      return 0;
    }
    int seconds = two(text, at + 1) * 3_600 + two(text, at + 4) * 60;
    return text.charAt(at) == '-' ? -seconds : seconds;
  }

  private static long decimals(String text, int end) {
    long nanos = 0;
    for (int i = 1; i <= MOST_DECIMALS; i++) {
      int at = FORM.length() + i;
      nanos = nanos * 10 + (at < end ? text.charAt(at) - '0' : 0);
    }
    return nanos;
  }

  private static int year(String text) {
    return two(text, 0) * 100 + two(text, 2);
  }

  private static int two(String text, int at) {
    return (text.charAt(at) - '0') * 10 + text.charAt(at + 1) - '0';
  }

  private static boolean isDigit(char c) {
    return c >= '0' && c <= '9';
  }
}
