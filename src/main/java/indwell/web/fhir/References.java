package indwell.web.fhir;

import java.util.List;
import java.util.stream.Stream;

/**
 * Reads the values of a reference parameter: an id, {@code Type/id}, or an address of this service.
 *
 * <p>Source: https://hl7.org/fhir/R4/search.html#reference
 *
 * @param base absolute URL of {@code /fhir}
 */
record References(String base) {

  /** The references that are looked for, relative. */
  List<String> read(SearchTerm term) {
    List<String> targets = targets(term);
    return term.alternatives().stream()
        .map(SearchTerm::unescaped)
        .flatMap(text -> references(text, targets))
        .toList();
  }

  /** The types that are meant: the one of the modifier, or all that there can be. */
  static List<String> targets(SearchTerm term) {
    List<String> targets = term.parameter().targets();
    if (term.modifier().isEmpty()) {
      return targets;
    }
    String type = term.modifier().get();
    if (!targets.contains(type)) {
      throw term.unsupported("none, :missing or :" + String.join(" or :", targets));
    }
    return List.of(type);
  }

  private Stream<String> references(String text, List<String> targets) {
    String relative = text.startsWith(base + "/") ? text.substring(base.length() + 1) : text;
    return relative.indexOf('/') < 0
        ? targets.stream().map(type -> type + "/" + relative)
        : targets.stream().filter(type -> relative.startsWith(type + "/")).map(type -> relative);
  }
}
