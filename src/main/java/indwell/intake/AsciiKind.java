package indwell.intake;

import indwell.domain.refusal.IssueCode;
import java.util.Optional;

/**
 * A name out of a few ASCII characters.
 *
 * @param marks the characters allowed beside letters and digits
 * @param most length; the least is 1
 * @param firstIsAlphanumeric whether a mark may not come first
 */
record AsciiKind(String marks, int most, boolean firstIsAlphanumeric) implements FieldKind<String> {

  @Override
  public String expected() {
    return "1 to "
        + most
        + " characters out of A-Z a-z 0-9 "
        + String.join(" ", marks.split(""))
        + (firstIsAlphanumeric ? " with a letter or digit first" : "");
  }

  @Override
  public Optional<String> read(Object value, String path, Faults faults) {
    if (!(value instanceof String text)) {
      faults.wrongType(path, value, expected());
      return Optional.empty();
    }
    if (matches(text)) {
      return Optional.of(text);
    }
    faults.add(
        IssueCode.MALFORMED_TEXT,
        path,
        "Text "
            + Quoted.text(text)
            + " of field "
            + path
            + " is malformed; expected "
            + expected()
            + ".");
    return Optional.empty();
  }

  private boolean matches(String text) {
    return !text.isEmpty()
        && text.length() <= most
        && (isAlphanumeric(text.charAt(0)) || !firstIsAlphanumeric)
        && text.chars().allMatch(c -> isAlphanumeric(c) || marks.indexOf(c) >= 0);
  }

  private static boolean isAlphanumeric(int c) {
    return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
  }
}
