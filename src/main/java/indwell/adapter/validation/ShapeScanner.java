package indwell.adapter.validation;

import java.util.Optional;

/**
 * Reads JSON as our own writer writes it (RFC 8259, no white space between tokens, nothing empty,
 * no member twice, of each text one way only to escape it) and nothing else: what it does not know
 * has no shape, and then the validator is asked. So equal texts within a resource are written
 * alike, and nothing has to be decoded to be compared.
 */
final class ShapeScanner {
  /** Far more than the mapper writes, and far less than a stack holds. */
  private static final int DEEPEST = 32;

  /** What is read behind the last character; stands nowhere in JSON. */
  private static final char NOTHING = 0;

  private static final AsciiSet NAME = AsciiSet.of("A-Z", "a-z", "0-9", "_");
  private static final AsciiSet DIGITS = AsciiSet.of("0-9");
  private static final AsciiSet SHORT_ESCAPES = AsciiSet.of("\"", "\\", "b", "t", "n", "f", "r");
  private static final String LONG_ESCAPE = "\\u00";
  private static final String HEX = "0123456789ABCDEF";

  private final String json;

  /** The same; a loop over an array takes less time. */
  private final char[] chars;

  private final ShapeText shape;
  private int at;

  private ShapeScanner(String json) {
    this.json = json;
    this.chars = json.toCharArray();
    this.shape = new ShapeText(json);
  }

  /** The object with its leaves taken out; empty when it is not written as we write it. */
  static Optional<String> shapeText(String json) {
    ShapeScanner scanner = new ShapeScanner(json);
    return scanner.peek() == '{' && scanner.object(1) && scanner.at == json.length()
        ? Optional.of(scanner.shape.finished())
        : Optional.empty();
  }

  private char peek() {
    return at < chars.length ? chars[at] : NOTHING;
  }

  private boolean take(char expected) {
    boolean there = peek() == expected;
    at++;
    return there;
  }

  private boolean value(int depth) {
    return switch (peek()) {
      case '{' -> object(depth + 1);
      case '[' -> array(depth + 1);
      case '"' -> string();
      case 't' -> literal("true");
      case 'f' -> literal("false");
      case 'n' -> literal("null");
      default -> number();
    };
  }

  /** With a member at least; ours are never empty. */
  private boolean object(int depth) {
    shape.begin();
    boolean sound = depth <= DEEPEST;
    do {
      at++;
      sound = sound && member() && value(depth);
    } while (sound && peek() == ',');
    shape.end();
    return sound && take('}');
  }

  private boolean array(int depth) {
    shape.begin();
    boolean sound = depth <= DEEPEST;
    do {
      at++;
      sound = sound && value(depth);
    } while (sound && peek() == ',');
    shape.end();
    return sound && take(']');
  }

  private boolean member() {
    int from = at + 1;
    int to = from;
    while (to < chars.length && NAME.has(chars[to])) {
      to++;
    }
    boolean begun = take('"') && to > from;
    at = to;
    return begun && take('"') && take(':') && shape.member(from, to);
  }

  private boolean literal(String literal) {
    boolean there = json.startsWith(literal, at);
    at += literal.length();
    return there;
  }

  private boolean string() {
    int from = at + 1;
    int to = endOfString(from);
    if (to < 0) {
      return false;
    }
    shape.string(from, to);
    at = to + 1;
    return true;
  }

  /**
   * Where the quote after it is; negative when there is none, or something that we do not write.
   */
  private int endOfString(int from) {
    int end = chars.length;
    int i = from;
    while (i < end) {
      char c = chars[i];
      if (c == '"') {
        return i;
      }
      int length = isPlain(c) ? 1 : lengthOfOther(c, i);
      i += length == 0 ? end : length;
    }
    return -1;
  }

  private static boolean isPlain(char c) {
    return c >= ' ' && c != '\\' && !Character.isSurrogate(c);
  }

  /** Characters of an escape, or of a pair of surrogates; 0 when it is neither. */
  private int lengthOfOther(char c, int i) {
    if (i + 1 >= chars.length) {
      return 0;
    }
    char next = chars[i + 1];
    if (c == '\\') {
      return SHORT_ESCAPES.has(next) ? 2 : lengthOfLongEscape(i);
    }
    return Character.isSurrogatePair(c, next) ? 2 : 0;
  }

  /** Of control characters, and of these only such as have no short escape. */
  private int lengthOfLongEscape(int i) {
    int digits = i + LONG_ESCAPE.length();
    if (!json.startsWith(LONG_ESCAPE, i) || digits + 2 > chars.length) {
      return 0;
    }
    int high = HEX.indexOf(chars[digits]);
    int low = HEX.indexOf(chars[digits + 1]);
    boolean ours = high >= 0 && low >= 0 && isEscapedLong(high * 16 + low);
    return ours ? LONG_ESCAPE.length() + 2 : 0;
  }

  private static boolean isEscapedLong(int c) {
    return c < ' ' && "\b\t\n\f\r".indexOf(c) < 0;
  }

  private boolean number() {
    int from = at;
    skip('-');
    boolean sound = skip('0') || digits();
    if (sound && skip('.')) {
      sound = digits();
    }
    if (sound && (skip('E') || skip('e'))) {
      if (!skip('+')) {
        skip('-');
      }
      sound = digits();
    }
    if (sound) {
      shape.number(from, at);
    }
    return sound;
  }

  private boolean skip(char c) {
    boolean there = peek() == c;
    at += there ? 1 : 0;
    return there;
  }

  /** One at least. */
  private boolean digits() {
    int from = at;
    while (DIGITS.has(peek())) {
      at++;
    }
    return at > from;
  }
}
