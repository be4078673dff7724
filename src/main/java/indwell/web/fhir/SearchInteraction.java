package indwell.web.fhir;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.map.FhirJson;
import indwell.fhir.outcome.Outcomes;
import indwell.port.StoredResource;
import indwell.usecase.ReadResources;
import indwell.usecase.ReadResources.Page;
import indwell.web.HttpAnswer;
import indwell.web.fhir.BundleJson.Entry;
import indwell.web.fhir.QueryText.Parameter;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import java.util.Set;
import java.util.stream.Collectors;
import org.hl7.fhir.r4.model.CapabilityStatement.TypeRestfulInteraction;

/**
 * A search over one type, page by page in the order of ids. A page starts behind the last id of the
 * one before, so that what is written meanwhile moves nothing.
 *
 * <p>Source: https://hl7.org/fhir/R4/http.html#search
 */
final class SearchInteraction implements Interaction {
  private static final String MATCH = "{\"mode\":\"match\"}";
  private static final String OUTCOME = "{\"mode\":\"outcome\"}";

  private final ReadResources resources;

  SearchInteraction(ReadResources resources) {
    this.resources = resources;
  }

  @Override
  public Route route() {
    return Route.of(Set.of("GET"), "{type}", Set.copyOf(ReadResources.TYPES));
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    SearchQuery search = SearchQuery.of(request);
    Page page = search.query().map(resources::search).orElse(new Page(List.of(), 0));
    List<Entry> entries = new ArrayList<>();
    for (StoredResource stored : page.resources()) {
      entries.add(Entry.of(request.base(), stored).with("search", MATCH));
    }
    if (!search.ignored().isEmpty()) {
      entries.add(remark(search.ignored()));
    }
    return FhirAnswers.json(
        request,
        BundleJson.of(
            "searchset",
            OptionalLong.of(page.total()),
            links(request, search, page.resources()),
            entries));
  }

  private static Map<String, String> links(
      FhirRequest request, SearchQuery search, List<StoredResource> found) {
    String plain = url(request, search.used());
    Map<String, String> links = new LinkedHashMap<>();
    List<Parameter> page =
        request.parameters().stream()
            .filter(one -> !search.ignored().contains(one.name()))
            .toList();
    links.put("self", url(request, page));
    if (search.count() > 0 && found.size() == search.count()) {
      String last = found.get(found.size() - 1).key().id();
      String separator = search.used().isEmpty() ? "?" : "&";
      links.put("next", plain + separator + SearchParameters.AFTER + "=" + QueryText.encode(last));
    }
    return links;
  }

  private static String url(FhirRequest request, List<Parameter> parameters) {
    String query =
        parameters.stream()
            .map(one -> QueryText.encode(one.name()) + "=" + QueryText.encode(one.value()))
            .collect(Collectors.joining("&"));
    return request.base() + "/" + request.type() + (query.isEmpty() ? "" : "?" + query);
  }

  private static Entry remark(List<String> ignored) {
    Issue issue =
        Issue.warning(
            IssueCode.UNKNOWN_PARAMETER,
            "",
            "Passed over what is not known here: "
                + ignored.stream().map(Shown::text).collect(Collectors.joining(", "))
                + ".");
    return Entry.unnamed(FhirJson.encode(Outcomes.of(List.of(issue)))).with("search", OUTCOME);
  }

  @Override
  public void describe(Capabilities capabilities) {
    for (String type : ReadResources.TYPES) {
      capabilities.interaction(type, TypeRestfulInteraction.SEARCHTYPE);
      SearchParameters.selecting(type)
          .forEach(name -> capabilities.searchParameter(type, name, SearchParameters.typeOf(name)));
    }
  }
}
