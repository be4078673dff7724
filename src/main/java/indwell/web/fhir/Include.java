package indwell.web.fhir;

import indwell.fhir.search.SearchParameter;
import indwell.fhir.search.SearchParameter.Kind;
import indwell.fhir.search.SearchParameters;
import indwell.usecase.ReadResources;
import indwell.web.fhir.QueryText.Parameter;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Predicate;

/**
 * A reference to follow, one way or the other.
 *
 * @param source type that refers
 * @param target type that is referred to
 */
record Include(String source, SearchParameter parameter, String target) {

  /** All references that start from a type; what an AuditEvent names has to be asked for itself. */
  static List<Include> from(String type) {
    List<Include> includes = new ArrayList<>();
    if (type.equals("AuditEvent")) {
      return includes;
    }
    for (SearchParameter parameter : SearchParameters.of(type)) {
      if (parameter.kind() == Kind.REFERENCE) {
        parameter.targets().forEach(target -> includes.add(new Include(type, parameter, target)));
      }
    }
    return includes;
  }

  /** All references of stored types that lead to a type. */
  static List<Include> to(String type) {
    return ReadResources.TYPES.stream()
        .flatMap(source -> from(source).stream())
        .filter(include -> include.target().equals(type))
        .toList();
  }

  /** {@code Source:parameter}, as in a query and in the CapabilityStatement. */
  String name() {
    return source + ":" + parameter.name();
  }

  /**
   * Reads a value.
   *
   * @return one for each target that is meant
   * @throws FhirRefusal 400 for what is not among the possible ones
   */
  static List<Include> read(Parameter given, List<Include> possible) {
    Predicate<Include> meant =
        one ->
            given.value().equals(one.name())
                || given.value().equals(one.name() + ":" + one.target());
    List<Include> includes = possible.stream().filter(meant).toList();
    if (includes.isEmpty()) {
      throw FhirRefusal.badParameter(
          given.name(),
          "Value "
              + Shown.text(given.value())
              + " of parameter "
              + given.name()
              + " is not supported; expected "
              + String.join(", ", possible.stream().map(Include::name).distinct().toList())
              + ".");
    }
    return includes;
  }
}
