package indwell.intake;

import indwell.domain.refusal.IssueCode;
import java.util.Optional;
import java.util.function.Supplier;
import java.util.stream.Stream;

/**
 * What the JSON of a FHIR resource allows and what must not get further.
 *
 * <p>A zero character is a valid escape in JSON and no valid text for PostgreSQL; half of a
 * surrogate pair is one as well and has no form in UTF-8. A narrative is XHTML within a text: the
 * library reads it by recursion, and takes seconds for some hundreds of elements inside one
 * another. For resources that contain resources, which R4 forbids (dom-2), it takes a time that
 * grows with the third power of their number.
 */
final class FhirText {
  /** Elements inside one another in a narrative; a table within lists needs ten. */
  static final int MAX_DEPTH = 50;

  /** Contained resources inside one another; one is what R4 allows, two are told by dom-2. */
  static final int MAX_CONTAINED = 4;

  private static final String CONTAINED = "contained";

  private FhirText() {}

  /** Finds what is wrong with a text or a name. */
  static void lookAt(String text, FindingLog log, Supplier<String> path) {
    if (log.full()) {
      return;
    }
    faultOf(text)
        .ifPresent(
            what ->
                log.add(
                    IssueCode.MALFORMED_TEXT,
                    path.get(),
                    "Text " + Quoted.text(text) + " " + what + "."));
    if (isNestedTooDeep(text)) {
      log.add(
          IssueCode.NESTED_TOO_DEEP,
          path.get(),
          "The narrative is nested too deep; expected at most " + MAX_DEPTH + " levels.");
    }
  }

  /**
   * Finds resources that contain one another without end.
   *
   * @param name of the value that is read next
   * @param around names of the values that it is in, itself aside
   */
  static void lookAtContained(
      String name, Stream<String> around, FindingLog log, Supplier<String> path) {
    if (name.equals(CONTAINED) && around.filter(CONTAINED::equals).count() >= MAX_CONTAINED) {
      log.add(
          IssueCode.NESTED_TOO_DEEP,
          path.get(),
          "Resources contain one another too deep; expected at most " + MAX_CONTAINED + " levels.");
    }
  }

  /** What is wrong with the characters and what was expected, to follow the text in a sentence. */
  private static Optional<String> faultOf(String text) {
    for (int i = 0; i < text.length(); i++) {
      char c = text.charAt(i);
      if (c == 0) {
        return Optional.of("holds a zero character; expected none");
      }
      if (Character.isSurrogate(c)) {
        if (!isPair(text, i)) {
          return Optional.of("holds half of a surrogate pair; expected whole characters");
        }
        i++;
      }
    }
    return Optional.empty();
  }

  private static boolean isPair(String text, int at) {
    return at + 1 < text.length()
        && Character.isSurrogatePair(text.charAt(at), text.charAt(at + 1));
  }

  /** Whether elements are opened inside one another beyond {@link #MAX_DEPTH}. */
  private static boolean isNestedTooDeep(String text) {
    int depth = 0;
    for (int at = text.indexOf('<'); at >= 0; at = text.indexOf('<', at + 1)) {
      int next = at + 1 < text.length() ? text.charAt(at + 1) : ' ';
      if (next == '/') {
        depth--;
      } else if (isLetter(next) && !closesItself(text, at)) {
        depth++;
      }
      if (depth > MAX_DEPTH) {
        return true;
      }
    }
    return false;
  }

  private static boolean isLetter(int c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_' || c == ':' || c > 0x7f;
  }

  /** Whether the tag that begins there ends with a slash, before another begins. */
  private static boolean closesItself(String text, int start) {
    int end = start + 1;
    while (end < text.length() && text.charAt(end) != '>' && text.charAt(end) != '<') {
      end++;
    }
    return end < text.length() && text.charAt(end) == '>' && text.charAt(end - 1) == '/';
  }
}
