package indwell.web.fhir;

import indwell.access.Need;
import indwell.access.Permission;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.map.FhirJson;
import indwell.fhir.outcome.Outcomes;
import indwell.fhir.search.SearchParameters;
import indwell.port.StoredResource;
import indwell.usecase.SearchResources;
import indwell.usecase.SearchResources.Found;
import indwell.web.HttpAnswer;
import indwell.web.fhir.BundleJson.Entry;
import indwell.web.fhir.QueryText.Parameter;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.hl7.fhir.r4.model.CapabilityStatement.TypeRestfulInteraction;

/**
 * A search over one type, page by page. A page starts behind the last resource of the one before,
 * so that what is written meanwhile moves nothing.
 *
 * <p>Source: https://hl7.org/fhir/R4/http.html#search
 */
final class SearchInteraction implements Interaction {
  private static final String MATCH = "{\"mode\":\"match\"}";
  private static final String INCLUDE = "{\"mode\":\"include\"}";
  private static final String OUTCOME = "{\"mode\":\"outcome\"}";

  private final SearchForm form;
  private final SearchReading reading;
  private final SearchResources resources;

  SearchInteraction(SearchForm form, SearchReading reading, SearchResources resources) {
    this.form = form;
    this.reading = reading;
    this.resources = resources;
  }

  @Override
  public Route route() {
    return form.route();
  }

  @Override
  public List<String> consumes() {
    return form.consumes();
  }

  @Override
  public List<Need> needs(FhirRequest request) {
    return List.of(Need.of(request.type(), Permission.SEARCH));
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    if (form == SearchForm.BODY) {
      request.visit().asked(QueryText.entries(form.parameters(request)));
    }
    SearchQuery search = reading.read(request, form.parameters(request));
    FhirAccess.require(request.caller(), follows(search.results()));
    Found found =
        search
            .query()
            .map(query -> resources.find(query, search.results().total(), request.now()))
            .orElse(Found.nothing());
    List<Entry> entries = new ArrayList<>();
    Shape shape = search.results().shape();
    found.resources().forEach(one -> entries.add(entry(request, one, shape).with("search", MATCH)));
    included(search, found)
        .forEach(
            one -> entries.add(entry(request, one, shape.ofIncluded()).with("search", INCLUDE)));
    if (!search.ignored().isEmpty()) {
      entries.add(remark(search.ignored()));
    }
    return FhirAnswers.json(
        request, BundleJson.of("searchset", found.total(), links(request, search, found), entries));
  }

  private static Entry entry(FhirRequest request, StoredResource stored, Shape shape) {
    String type = stored.key().type();
    return Entry.of(request.base(), type, stored.key().id(), shape.of(type, stored.json()));
  }

  /** What is named is read; what names is found. */
  private static List<Need> follows(ResultParameters asked) {
    return Stream.concat(
            asked.includes().stream().map(one -> Need.of(one.target(), Permission.READ)),
            asked.revincludes().stream().map(one -> Need.of(one.source(), Permission.SEARCH)))
        .toList();
  }

  private List<StoredResource> included(SearchQuery search, Found found) {
    ResultParameters asked = search.results();
    return asked.includes().isEmpty() && asked.revincludes().isEmpty()
        ? List.of()
        : resources
            .following(
                found.resources(),
                asked.includes().stream().map(SearchInteraction::link).toList(),
                asked.revincludes().stream().map(SearchInteraction::link).toList())
            .fold(
                included -> included,
                issue -> {
                  throw FhirRefusal.of(issue);
                });
  }

  private static SearchResources.Link link(Include include) {
    return new SearchResources.Link(include.source(), include.parameter().name(), include.target());
  }

  private static Map<String, String> links(FhirRequest request, SearchQuery search, Found found) {
    Map<String, String> links = new LinkedHashMap<>();
    Stream<Parameter> page =
        search.results().page().map(text -> new Parameter(ResultParameters.AFTER, text)).stream();
    links.put("self", url(request, Stream.concat(search.used().stream(), page)));
    if (found.more()) {
      StoredResource last = found.resources().get(found.resources().size() - 1);
      PageMark next =
          new PageMark(
              search.results().sort(),
              search.order().asOf(),
              found.lastKey().orElse(0),
              last.key().id());
      Stream<Parameter> after = Stream.of(new Parameter(ResultParameters.AFTER, next.text()));
      links.put("next", url(request, Stream.concat(search.used().stream(), after)));
    }
    return links;
  }

  private static String url(FhirRequest request, Stream<Parameter> parameters) {
    String query =
        parameters
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
    if (form != SearchForm.QUERY) {
      return;
    }
    Shape.describe(capabilities);
    for (String type : SearchForm.TYPES) {
      capabilities.interaction(type, TypeRestfulInteraction.SEARCHTYPE);
      SearchParameters.of(type).forEach(one -> capabilities.searchParameter(type, one));
      Include.from(type).forEach(one -> capabilities.include(type, one.name()));
      Include.to(type).forEach(one -> capabilities.revinclude(type, one.name()));
    }
  }
}
