package indwell.adapter.validation;

/**
 * A set of ASCII characters.
 *
 * @param low bits of the characters below 64
 * @param high bits of those from 64 to 127
 */
record AsciiSet(long low, long high) {
  private static final int HALF = 64;

  /** The characters of the texts, of which each may be a range: {@code "a-z"}. */
  static AsciiSet of(String... ranges) {
    long[] bits = new long[2];
    for (String range : ranges) {
      for (char c = range.charAt(0); c <= range.charAt(range.length() - 1); c++) {
        bits[c / HALF] |= 1L << c;
      }
    }
    return new AsciiSet(bits[0], bits[1]);
  }

  boolean has(char c) {
    return c < 2 * HALF && ((c < HALF ? low : high) >>> c & 1) == 1;
  }

  /** Whether all characters of the part are in the set; a part without any is. */
  boolean hasAll(String text, int from, int toExclusive) {
    for (int i = from; i < toExclusive; i++) {
      if (!has(text.charAt(i))) {
        return false;
      }
    }
    return true;
  }
}
