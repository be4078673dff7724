package indwell.adapter.validation;

import java.util.Optional;

/**
 * A relative reference.
 *
 * @param type of the resource
 * @param id of the resource
 * @param versioned whether it names a version
 */
record LeafReference(String type, String id, boolean versioned) {
  private static final AsciiSet CAPITALS = AsciiSet.of("A-Z");
  private static final AsciiSet LETTERS = AsciiSet.of("A-Z", "a-z");
  private static final AsciiSet DIGITS = AsciiSet.of("0-9");
  private static final String HISTORY = "/_history/";
  private static final int LONGEST_TYPE = 40;
  private static final int LONGEST_VERSION = 9;

  /** The reference, when the text is one. */
  static Optional<LeafReference> of(String text) {
    int slash = text.indexOf('/');
    if (!isType(text, slash)) {
      return Optional.empty();
    }
    int next = text.indexOf('/', slash + 1);
    int end = next < 0 ? text.length() : next;
    String id = text.substring(slash + 1, end);
    return Leaf.isId(id) && (next < 0 || isVersion(text, next))
        ? Optional.of(new LeafReference(text.substring(0, slash), id, next >= 0))
        : Optional.empty();
  }

  private static boolean isType(String text, int length) {
    return length >= 2
        && length <= LONGEST_TYPE
        && CAPITALS.has(text.charAt(0))
        && LETTERS.hasAll(text, 1, length);
  }

  private static boolean isVersion(String text, int at) {
    int digits = at + HISTORY.length();
    return text.startsWith(HISTORY, at)
        && text.length() > digits
        && text.length() - digits <= LONGEST_VERSION
        && DIGITS.hasAll(text, digits, text.length());
  }
}
