package indwell.adapter.validation;

import java.util.Optional;

/** The leaves of a resource whose exact value cannot change its verdict. */
final class Leaf {
  private static final AsciiSet DIGITS = AsciiSet.of("0-9");
  private static final AsciiSet ZERO = AsciiSet.of("0", ".");
  private static final AsciiSet LETTERS_AND_DIGITS = AsciiSet.of("A-Z", "a-z", "0-9");

  /** Letters that mean nothing to a validator: no white space, no mark-up, nothing to escape. */
  private static final AsciiSet NAME =
      AsciiSet.of("A-Z", "a-z", "0-9", ".", "_", ":", "/", "#", "-");

  private static final int LONGEST_NAME = 201;

  private static final AsciiSet ID = AsciiSet.of("A-Z", "a-z", "0-9", ".", "-");
  private static final int LONGEST_ID = 64;

  private static final int MOST_DIGITS = 9;

  private Leaf() {}

  static boolean isId(String text) {
    return !text.isEmpty() && text.length() <= LONGEST_ID && ID.hasAll(text, 0, text.length());
  }

  /** Values of systems that say how a value is written count as they stand. */
  static boolean isIdentifierValue(String system, String text) {
    return !system.isEmpty()
        && !system.startsWith("urn:ietf:")
        && !text.isEmpty()
        && text.length() <= LONGEST_NAME
        && LETTERS_AND_DIGITS.has(text.charAt(0))
        && NAME.hasAll(text, 1, text.length());
  }

  /** How the text of a time is written: its length says zone and decimals apart. */
  static int form(String time) {
    return time.endsWith("Z") ? time.length() : -time.length();
  }

  /** Zero or not, and the decimals, of a plain number that is not negative. */
  static Optional<String> number(String text) {
    int point = text.indexOf('.');
    int whole = point < 0 ? text.length() : point;
    if (!isWhole(text, whole) || (point >= 0 && !areDigits(text, point + 1, text.length()))) {
      return Optional.empty();
    }
    boolean zero = ZERO.hasAll(text, 0, text.length());
    int decimals = point < 0 ? 0 : text.length() - whole - 1;
    return Optional.of((zero ? "0." : "n.") + decimals);
  }

  /** Without a zero before others. */
  private static boolean isWhole(String text, int end) {
    return areDigits(text, 0, end) && (end == 1 || text.charAt(0) != '0');
  }

  private static boolean areDigits(String text, int from, int toExclusive) {
    int digits = toExclusive - from;
    return digits > 0 && digits <= MOST_DIGITS && DIGITS.hasAll(text, from, toExclusive);
  }
}
