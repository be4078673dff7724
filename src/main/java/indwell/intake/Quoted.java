package indwell.intake;

import indwell.domain.refusal.Visible;
import java.math.BigDecimal;
import java.util.List;
import java.util.Map;

/** Names a value inside a sentence: short, on one line, with nothing invisible in it. */
final class Quoted {
  /** Code points of a value that are shown; the rest becomes an ellipsis. */
  static final int SHOWN = 80;

  private Quoted() {}

  /** The text in quotation marks. */
  static String text(String text) {
    return Visible.quoted(text, SHOWN);
  }

  /** The text without quotation marks, as part of a path. */
  static String name(String text) {
    return Visible.of(text, SHOWN);
  }

  /** Any value of a tree, by its kind where it has no short text. */
  static String value(Object value) {
    if (value instanceof String text) {
      return text(text);
    }
    if (value instanceof BigDecimal number) {
      return number(number);
    }
    if (value instanceof Map) {
      return "an object";
    }
    if (value instanceof List) {
      return "an array";
    }
    return value == JsonMarker.NULL ? "null" : name(String.valueOf(value));
  }

  /** The number without an exponent, shortened like a text. */
  static String number(BigDecimal number) {
    return name(number.toPlainString());
  }
}
