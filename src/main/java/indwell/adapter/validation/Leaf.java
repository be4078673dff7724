package indwell.adapter.validation;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** The leaves of a resource whose exact value cannot change its verdict. */
final class Leaf {
  /** Elements of type dateTime or instant that our resources have. */
  static final Set<String> TIMES =
      Set.of(
          "effectiveDateTime",
          "performedDateTime",
          "occurredDateTime",
          "collectedDateTime",
          "valueDateTime",
          "recorded",
          "start",
          "end",
          "lastUpdated");

  /** Letters that mean nothing to a validator: no white space, no mark-up, nothing to escape. */
  private static final Pattern NAME = Pattern.compile("[A-Za-z0-9][A-Za-z0-9._:/#-]{0,200}");

  private static final Pattern ID = Pattern.compile("[A-Za-z0-9.-]{1,64}");

  private static final Pattern REFERENCE =
      Pattern.compile("([A-Z][A-Za-z]{1,39})/([A-Za-z0-9.-]{1,64})(?:/_history/([0-9]{1,9}))?");

  /** To the second or finer, of this century, with an offset that FHIR allows. */
  private static final Pattern TIME =
      Pattern.compile(
          "20\\d\\d-\\d\\d-\\d\\dT\\d\\d:\\d\\d:\\d\\d(?:\\.(\\d{1,9}))?"
              + "(?:Z|[+-](?:0\\d|1[0-3]):[0-5]\\d|[+-]14:00)");

  private static final Pattern NUMBER = Pattern.compile("(?:0|[1-9]\\d{0,8})(?:\\.(\\d{1,9}))?");

  private Leaf() {}

  static boolean isId(String text) {
    return ID.matcher(text).matches();
  }

  /** Values of systems that say how a value is written count as they stand. */
  static boolean isIdentifierValue(String system, String text) {
    return !system.isEmpty() && !system.startsWith("urn:ietf:") && NAME.matcher(text).matches();
  }

  /** Type, id and version of a relative reference. */
  static Optional<Matcher> reference(String text) {
    Matcher parts = REFERENCE.matcher(text);
    return parts.matches() ? Optional.of(parts) : Optional.empty();
  }

  /** The instant, when the text is a time that exists. */
  static Optional<Instant> time(String text) {
    if (!TIME.matcher(text).matches()) {
      return Optional.empty();
    }
    try {
      return Optional.of(OffsetDateTime.parse(text).toInstant());
    } catch (DateTimeException noSuchTime) {
      return Optional.empty();
    }
  }

  /** How the text of a time is written: its length says zone and decimals apart. */
  static int form(String time) {
    return time.endsWith("Z") ? time.length() : -time.length();
  }

  /** Zero or not, and the decimals, of a plain number that is not negative. */
  static Optional<String> number(String text) {
    Matcher parts = NUMBER.matcher(text);
    if (!parts.matches()) {
      return Optional.empty();
    }
    boolean zero = text.chars().allMatch(c -> c == '0' || c == '.');
    int decimals = parts.group(1) == null ? 0 : parts.group(1).length();
    return Optional.of((zero ? "0." : "n.") + decimals);
  }
}
