package indwell.usecase.transaction;

import indwell.domain.refusal.IssueCode;
import java.util.Optional;
import java.util.regex.Pattern;

/**
 * What an entry is about, by its {@code request.url}.
 *
 * @param id its logical id, if the URL names one
 * @param condition the identifier that it is found by, if the URL asks so
 */
record Target(String type, Optional<String> id, Optional<Token> condition) {
  /** FHIR R4, datatype id. */
  private static final Pattern ID = Pattern.compile("[A-Za-z0-9\\-.]{1,64}");

  private static final Pattern TYPE = Pattern.compile("[A-Z][A-Za-z]{0,63}");

  /**
   * @param base absolute URL of the FHIR interface, which may stand before the path
   */
  static Target of(Entry entry, String base) {
    String url = relative(entry.url(), base);
    int mark = url.indexOf('?');
    String[] path = (mark < 0 ? url : url.substring(0, mark)).split("/", -1);
    Optional<Token> condition = Optional.empty();
    if (mark >= 0) {
      condition = Optional.of(condition(entry, "request.url", url.substring(mark + 1)));
    }
    boolean readable =
        TYPE.matcher(path[0]).matches()
            && (path.length == 1 || (path.length == 2 && ID.matcher(path[1]).matches()))
            && (condition.isEmpty() || path.length == 1);
    if (!readable) {
      throw entry.refused(
          400,
          IssueCode.BAD_BUNDLE,
          "request.url",
          "URL "
              + Words.shown(entry.url())
              + " cannot be read; expected a type, a type and an id, or a type and"
              + " ?identifier=system|value.");
    }
    return new Target(
        path[0], path.length == 2 ? Optional.of(path[1]) : Optional.empty(), condition);
  }

  static String relative(String url, String base) {
    String below = url.startsWith(base + "/") ? url.substring(base.length() + 1) : url;
    return below.startsWith("/") ? below.substring(1) : below;
  }

  static Token condition(Entry entry, String part, String query) {
    return Token.ofQuery(query)
        .orElseThrow(
            () ->
                entry.refused(
                    412,
                    IssueCode.BAD_CONDITION,
                    part,
                    "Condition "
                        + Words.shown(query)
                        + " is not looked up; expected identifier=system|value and nothing else."));
  }
}
