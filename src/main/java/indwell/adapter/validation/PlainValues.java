package indwell.adapter.validation;

import java.time.YearMonth;
import java.util.regex.Pattern;

/**
 * Values of primitive types that are right beyond doubt. This answers yes to less than the library
 * accepts: whatever is unusual is left to the library.
 *
 * <p>Source of the forms: FHIR R4, data types, primitive types.
 */
final class PlainValues {
  private static final int LONGEST = 2_000;

  /** Years that the library finds reasonable in every year in which this may run. */
  private static final int FIRST_YEAR = 1900;

  private static final int LAST_YEAR = 2099;

  private static final int DATE = 10;

  private static final Pattern NUMBER =
      Pattern.compile("-?(?:0|[1-9][0-9]{0,8})(?:\\.[0-9]{1,8})?");
  private static final Pattern WHOLE = Pattern.compile("0|-?[1-9][0-9]{0,8}");
  private static final Pattern ID = Pattern.compile("[A-Za-z0-9.-]{1,64}");
  private static final Pattern DAY =
      Pattern.compile("[0-9]{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12][0-9]|3[01])");
  private static final Pattern TIME =
      Pattern.compile(
          "T(?:[01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9](?:\\.[0-9]{1,6})?"
              + "(?:Z|[+-](?:0[0-9]|1[0-3]):[0-5][0-9])");

  private PlainValues() {}

  /**
   * Whether a value of that type needs no further look; false for types that are not known here.
   */
  static boolean isRight(String type, String value) {
    return switch (type) {
      case "string" -> isText(value);
      case "code" -> isToken(value);
      case "id" -> ID.matcher(value).matches();
      case "uri", "url", "canonical" ->
          isToken(value) && !value.startsWith("#") && !isNamedByScheme(value);
      case "boolean" -> value.equals("true") || value.equals("false");
      case "integer" -> WHOLE.matcher(value).matches();
      case "unsignedInt" -> WHOLE.matcher(value).matches() && value.charAt(0) != '-';
      case "positiveInt" ->
          WHOLE.matcher(value).matches() && value.charAt(0) != '-' && value.charAt(0) != '0';
      case "decimal" -> NUMBER.matcher(value).matches();
      case "date" -> value.length() == DATE && isDay(value);
      case "dateTime" -> value.length() == DATE ? isDay(value) : isMoment(value);
      case "instant" -> isMoment(value);
      default -> false;
    };
  }

  /** The library has rules of its own for these. */
  private static boolean isNamedByScheme(String uri) {
    return uri.startsWith("urn:") || uri.startsWith("oid:") || uri.startsWith("uuid:");
  }

  private static boolean isText(String value) {
    return isVisible(value) && value.charAt(0) != ' ' && value.charAt(value.length() - 1) != ' ';
  }

  private static boolean isToken(String value) {
    return isVisible(value) && value.indexOf(' ') < 0;
  }

  /**
   * Letters of Latin, signs and spaces; what could begin markup or run from right to left is not.
   */
  private static boolean isVisible(String value) {
    if (value.isEmpty() || value.length() > LONGEST) {
      return false;
    }
    for (int i = 0; i < value.length(); i++) {
      char at = value.charAt(i);
      boolean ascii = at >= ' ' && at <= '~' && at != '<';
      boolean latin = at >= 'À' && at <= 'ɏ';
      if (!ascii && !latin) {
        return false;
      }
    }
    return true;
  }

  private static boolean isMoment(String value) {
    return value.length() > DATE
        && isDay(value.substring(0, DATE))
        && TIME.matcher(value).region(DATE, value.length()).matches();
  }

  private static boolean isDay(String value) {
    if (!DAY.matcher(value).matches()) {
      return false;
    }
    int year = Integer.parseInt(value, 0, 4, 10);
    int month = Integer.parseInt(value, 5, 7, 10);
    int day = Integer.parseInt(value, 8, DATE, 10);
    return year >= FIRST_YEAR
        && year <= LAST_YEAR
        && (day <= 28 || YearMonth.of(year, month).isValidDay(day));
  }
}
