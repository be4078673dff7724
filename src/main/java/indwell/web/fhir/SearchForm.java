package indwell.web.fhir;

import indwell.usecase.ReadResources;
import indwell.web.fhir.QueryText.Parameter;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;

/** The two forms in which a search is sent; they mean the same. */
enum SearchForm {
  /** All in the address. */
  QUERY(Set.of("GET"), "{type}", List.of()),
  /** In the body, in the address, or in both; so that no log of addresses names a patient. */
  BODY(Set.of("POST"), "{type}/_search", List.of("application/x-www-form-urlencoded"));

  /** Every type that can be searched. */
  static final Set<String> TYPES = types();

  private final Set<String> methods;
  private final String path;
  private final List<String> consumes;

  SearchForm(Set<String> methods, String path, List<String> consumes) {
    this.methods = methods;
    this.path = path;
    this.consumes = consumes;
  }

  private static Set<String> types() {
    Set<String> types = new TreeSet<>(ReadResources.TYPES);
    types.add("Flag");
    return types;
  }

  Route route() {
    return Route.of(methods, path, TYPES);
  }

  List<String> consumes() {
    return consumes;
  }

  /** The parameters of the address, then those of the body. */
  List<Parameter> parameters(FhirRequest request) {
    List<Parameter> all = new ArrayList<>(request.parameters());
    if (this == BODY) {
      String text = request.body().toString(StandardCharsets.UTF_8);
      QueryText.parameters(text)
          .orElseThrow(
              () ->
                  FhirRefusal.badParameter(
                      "",
                      "The body cannot be decoded; expected percent-encoded UTF-8 as in a query."))
          .stream()
          .filter(one -> !FhirEndpoint.GENERAL.contains(one.name()))
          .forEach(all::add);
    }
    return all;
  }
}
