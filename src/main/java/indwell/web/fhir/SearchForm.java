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
  QUERY("GET", "{type}", ""),
  /** In the body, in the address, or in both; so that no log of addresses names a patient. */
  BODY("POST", "{type}/_search", "application/x-www-form-urlencoded");

  /** Types that are made when they are read, and so have no versions. */
  static final Set<String> WORKED_OUT = Set.of("Flag", "Group", "AuditEvent");

  /** Every type that can be searched. */
  static final Set<String> TYPES = types();

  private final String method;
  private final String path;
  private final String consumes;

  SearchForm(String method, String path, String consumes) {
    this.method = method;
    this.path = path;
    this.consumes = consumes;
  }

  private static Set<String> types() {
    Set<String> types = new TreeSet<>(ReadResources.TYPES);
    types.addAll(WORKED_OUT);
    return types;
  }

  Route route() {
    return Route.of(Set.of(method), path, TYPES);
  }

  List<String> consumes() {
    return List.of(consumes);
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
          .filter(one -> !RequestHead.GENERAL.contains(one.name()))
          .forEach(all::add);
    }
    return all;
  }
}
