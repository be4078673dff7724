package indwell.intake;

import indwell.domain.refusal.IssueCode;
import java.util.Optional;

/** An absolute URI that names the system of an identifier. */
record UriKind() implements FieldKind<String> {
  /** No limit of any standard: long enough for every system, short enough for an index. */
  static final int MOST = 2048;

  @Override
  public String expected() {
    return "an absolute URI of at most "
        + MOST
        + " characters, such as https://hospital.example/id";
  }

  @Override
  public Optional<String> read(Object value, String path, Faults faults) {
    if (!(value instanceof String text)) {
      faults.wrongType(path, value, expected());
      return Optional.empty();
    }
    if (text.length() <= MOST && AbsoluteUri.matches(text)) {
      return Optional.of(text);
    }
    // Given all the same: what is stored is read back whatever is asked of a URI today.
    faults.add(
        IssueCode.NOT_AN_ABSOLUTE_URI,
        path,
        "Text %s of field %s is no absolute URI; expected %s."
            .formatted(Quoted.text(text), path, expected()));
    return Optional.of(text);
  }
}
