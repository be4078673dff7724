package indwell.web.fhir;

import indwell.domain.refusal.IssueCode;
import indwell.fhir.search.SearchParameter;
import indwell.web.fhir.QueryText.Parameter;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * One parameter of a search that selects resources, taken apart.
 *
 * @param parameter what it is about
 * @param modifier behind the colon
 * @param chain behind the dot: a parameter of what is referred to
 * @param text its value, whole
 */
record SearchTerm(
    SearchParameter parameter, Optional<String> modifier, Optional<String> chain, String text) {

  /** The name alone, without modifier and chain. */
  static String nameIn(String written) {
    int colon = written.indexOf(':');
    int end = colon < 0 ? written.length() : colon;
    int dot = written.indexOf('.');
    return written.substring(0, dot < 0 ? end : Math.min(end, dot));
  }

  static SearchTerm of(SearchParameter parameter, Parameter given) {
    String rest = given.name().substring(parameter.name().length());
    int dot = rest.indexOf('.');
    String modifier = dot < 0 ? rest : rest.substring(0, dot);
    return new SearchTerm(
        parameter,
        modifier.isEmpty() ? Optional.empty() : Optional.of(modifier.substring(1)),
        dot < 0 ? Optional.empty() : Optional.of(rest.substring(dot + 1)),
        given.value());
  }

  String name() {
    return parameter.name();
  }

  /** How many values are looked up of a kind that is looked up by them. */
  private static final int MOST_LOOKED_UP = 1_000;

  /** How many are compared with every candidate. */
  private static final int MOST_COMPARED = 100;

  /**
   * The values that are separated by commas, any of which is to match; escapes are kept.
   *
   * @throws FhirRefusal 400 when one of them is empty or ends in the midst of an escape, and when
   *     there are more than may be
   */
  List<String> alternatives() {
    List<String> values = split();
    int most =
        switch (parameter.kind()) {
          case TOKEN, REFERENCE -> MOST_LOOKED_UP;
          case DATE, STRING -> MOST_COMPARED;
        };
    if (values.size() > most) {
      throw FhirRefusal.of(
          400,
          IssueCode.TOO_MANY_CONDITIONS,
          name(),
          "Parameter "
              + name()
              + " has "
              + values.size()
              + " values; expected at most "
              + most
              + ".");
    }
    return values;
  }

  private List<String> split() {
    List<String> values = new ArrayList<>();
    StringBuilder value = new StringBuilder();
    boolean escaped = false;
    for (char c : (text + ",").toCharArray()) {
      if (!escaped && c == ',') {
        values.add(value.toString());
        value.setLength(0);
      } else {
        value.append(c);
        escaped = !escaped && c == '\\';
      }
    }
    if (!value.isEmpty() || values.contains("")) {
      throw incomplete();
    }
    return values;
  }

  /** Where an unescaped character stands first; -1 if it does nowhere. */
  static int indexOf(char wanted, String escapedText) {
    for (int i = 0; i < escapedText.length(); i++) {
      if (escapedText.charAt(i) == '\\') {
        i++;
      } else if (escapedText.charAt(i) == wanted) {
        return i;
      }
    }
    return -1;
  }

  /** The text without its escapes (https://hl7.org/fhir/R4/search.html#escaping). */
  static String unescaped(String escapedText) {
    StringBuilder plain = new StringBuilder(escapedText.length());
    for (int i = 0; i < escapedText.length(); i++) {
      char c = escapedText.charAt(i);
      boolean escape = c == '\\' && i + 1 < escapedText.length();
      plain.append(escape ? escapedText.charAt(++i) : c);
    }
    return plain.toString();
  }

  FhirRefusal incomplete() {
    return bad("is not complete; expected one or more values with commas between them.");
  }

  FhirRefusal bad(String whatIsWrong) {
    return FhirRefusal.badParameter(
        name(), "Value " + Shown.text(text) + " of parameter " + name() + " " + whatIsWrong);
  }

  /** A modifier or chain that this kind of parameter does not have; never passed over. */
  FhirRefusal unsupported(String expected) {
    String written =
        modifier.map(text -> ":" + text).orElse("") + chain.map(text -> "." + text).orElse("");
    return FhirRefusal.of(
        400,
        IssueCode.UNSUPPORTED_MODIFIER,
        name(),
        "Modifier "
            + Shown.text(written)
            + " of parameter "
            + name()
            + " is not supported; expected "
            + expected
            + ".");
  }
}
