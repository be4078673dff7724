package indwell.intake;

import indwell.domain.refusal.IssueCode;
import java.util.Optional;

/**
 * A text of the sender's own: no control characters, no half of a surrogate pair, no white space at
 * either end.
 *
 * @param most length in Unicode code points; the least is 1
 */
record TextKind(int most) implements FieldKind<String> {

  @Override
  public String expected() {
    return "a text of 1 to " + most + " characters";
  }

  @Override
  public Optional<String> read(Object value, String path, Faults faults) {
    if (!(value instanceof String text)) {
      faults.wrongType(path, value, expected());
      return Optional.empty();
    }
    Optional<String> fault = faultOf(text);
    fault.ifPresent(what -> faults.add(IssueCode.MALFORMED_TEXT, path, sentence(text, path, what)));
    return fault.isPresent() ? Optional.empty() : Optional.of(text);
  }

  private static String sentence(String text, String path, String what) {
    return "Text " + Quoted.text(text) + " of field " + path + " " + what + ".";
  }

  private Optional<String> faultOf(String text) {
    int length = text.codePointCount(0, text.length());
    if (length < 1 || length > most) {
      return Optional.of("has " + length + " characters; expected 1 to " + most);
    }
    if (text.codePoints().anyMatch(point -> Character.getType(point) == Character.CONTROL)) {
      return Optional.of("holds a control character; expected none");
    }
    if (text.codePoints().anyMatch(point -> Character.getType(point) == Character.SURROGATE)) {
      return Optional.of("holds half of a surrogate pair; expected whole characters");
    }
    if (isSpace(text.codePointAt(0)) || isSpace(text.codePointBefore(text.length()))) {
      return Optional.of("has white space at an end; expected none there");
    }
    return Optional.empty();
  }

  /** Unicode white space that is no control character: the separators, no-break ones included. */
  private static boolean isSpace(int point) {
    return Character.isSpaceChar(point);
  }
}
