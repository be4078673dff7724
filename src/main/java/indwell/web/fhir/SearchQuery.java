package indwell.web.fhir;

import indwell.domain.refusal.IssueCode;
import indwell.fhir.search.SearchParameter;
import indwell.fhir.search.SearchParameters;
import indwell.port.ResourceQuery;
import indwell.port.SearchOrder;
import indwell.web.fhir.QueryText.Parameter;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SortedSet;
import java.util.TreeSet;

/**
 * A search as it was asked.
 *
 * @param query what the store is asked; empty when nothing can meet the conditions
 * @param results what is said about the answer
 * @param order of the page
 * @param used the parameters that counted, for links, without the one for pages
 * @param ignored names that were passed over at the caller's wish
 */
record SearchQuery(
    Optional<ResourceQuery> query,
    ResultParameters results,
    SearchOrder order,
    List<Parameter> used,
    List<String> ignored) {
  /** All parameters hold together, and each costs a look at every candidate. */
  static final int MOST_PARAMETERS = 100;

  /**
   * Reads the parameters.
   *
   * @param selection to be filled
   * @throws FhirRefusal 400 for one that is not known or has a value that it cannot have
   */
  static SearchQuery of(FhirRequest request, List<Parameter> given, SearchSelection selection) {
    if (given.size() > MOST_PARAMETERS) {
      throw FhirRefusal.of(
          400,
          IssueCode.TOO_MANY_CONDITIONS,
          "",
          "The search has "
              + given.size()
              + " parameters; expected at most "
              + MOST_PARAMETERS
              + ".");
    }
    String type = request.type();
    List<Parameter> used = new ArrayList<>();
    List<String> ignored = new ArrayList<>();
    for (Parameter one : given) {
      Optional<SearchParameter> selecting =
          SearchParameters.find(type, SearchTerm.nameIn(one.name()));
      selecting.ifPresent(parameter -> selection.add(term(type, parameter, one)));
      if (selecting.isPresent() || ResultParameters.NAMES.contains(one.name())) {
        used.add(one);
      } else {
        refuseModified(one);
        ignored.add(one.name());
      }
    }
    if (!ignored.isEmpty() && !request.lenient()) {
      throw OperationInput.unknown(ignored.get(0), names(type));
    }
    return of(request, ResultParameters.of(type, used), selection, used, ignored);
  }

  /** Everything but an AuditEvent has its patient always, where it has one at all. */
  private static SearchTerm term(String type, SearchParameter parameter, Parameter given) {
    SearchTerm term = SearchTerm.of(parameter, given);
    if (type.equals("AuditEvent")
        && term.name().equals(SearchParameters.PATIENT)
        && term.modifier().filter("missing"::equals).isPresent()) {
      throw term.unsupported("none");
    }
    return term;
  }

  private static SearchQuery of(
      FhirRequest request,
      ResultParameters results,
      SearchSelection selection,
      List<Parameter> used,
      List<String> ignored) {
    Optional<PageMark> mark =
        results
            .page()
            .map(text -> PageMark.read(text, results.sort()).orElseThrow(() -> noPage(text)));
    SearchOrder order = PageMark.order(results.sort(), mark, request.now());
    return new SearchQuery(
        selection.query(request.type(), order, mark.map(PageMark::id), results.count()),
        results,
        order,
        used.stream().filter(one -> !one.name().equals(ResultParameters.AFTER)).toList(),
        ignored);
  }

  /** {@code _include:iterate} and its like mean something else than the name alone. */
  private static void refuseModified(Parameter one) {
    String name = SearchTerm.nameIn(one.name());
    if (ResultParameters.NAMES.contains(name)) {
      throw FhirRefusal.of(
          400,
          IssueCode.UNSUPPORTED_MODIFIER,
          name,
          "Modifier "
              + Shown.text(one.name().substring(name.length()))
              + " of parameter "
              + name
              + " is not supported; expected none.");
    }
  }

  private static FhirRefusal noPage(String text) {
    return FhirRefusal.badParameter(
        ResultParameters.AFTER,
        "Value "
            + Shown.text(text)
            + " of parameter "
            + ResultParameters.AFTER
            + " is no page of this search; expected the one of a next link.");
  }

  /** All parameters of a search over the type. */
  private static SortedSet<String> names(String type) {
    SortedSet<String> names = new TreeSet<>(ResultParameters.NAMES);
    SearchParameters.of(type).forEach(one -> names.add(one.name()));
    return names;
  }
}
