package indwell.intake;

/** Judges the text of a JSON number before anything is calculated from it. */
final class NumberText {
  static final int MAX_DIGITS = 40;
  static final int MAX_EXPONENT = 40;

  private NumberText() {}

  /**
   * Whether the number has more than 40 digits or an exponent beyond ±40. A handful of bytes can
   * otherwise keep a processor busy for minutes, so the decision is made on the text alone.
   */
  static boolean isAbsurd(String text) {
    int exponentAt = Math.max(text.indexOf('e'), text.indexOf('E'));
    String digits = exponentAt < 0 ? text : text.substring(0, exponentAt);
    return digitsIn(digits) > MAX_DIGITS
        || (exponentAt >= 0 && exponentOf(text.substring(exponentAt + 1)) > MAX_EXPONENT);
  }

  private static int digitsIn(String text) {
    int digits = 0;
    for (int i = 0; i < text.length(); i++) {
      if (text.charAt(i) >= '0' && text.charAt(i) <= '9') {
        digits++;
      }
    }
    return digits;
  }

  /** The exponent without its sign; anything above the limit reads as just above it. */
  private static int exponentOf(String text) {
    int exponent = 0;
    for (int i = 0; i < text.length() && exponent <= MAX_EXPONENT; i++) {
      char c = text.charAt(i);
      if (c >= '0' && c <= '9') {
        exponent = exponent * 10 + (c - '0');
      }
    }
    return exponent;
  }
}
