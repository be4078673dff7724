package indwell.web.fhir;

import indwell.access.Need;
import indwell.port.ChangeQuery;
import indwell.port.ChangeQuery.Mark;
import indwell.port.StoredResource;
import indwell.usecase.ReadResources;
import indwell.usecase.ReadResources.Changes;
import indwell.web.HttpAnswer;
import indwell.web.fhir.BundleJson.Entry;
import indwell.web.fhir.QueryText.Parameter;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * Versions of a resource, of a type or of everything, newest first, page by page. A page starts
 * behind the last version of the one before, so what is written meanwhile moves nothing.
 *
 * <p>Source: https://hl7.org/fhir/R4/http.html#history
 */
final class HistoryInteraction implements Interaction {
  private static final String SINCE = "_since";
  private static final Set<String> NAMES =
      Set.of(SINCE, ResultParameters.COUNT, ResultParameters.AFTER);

  private final HistoryScope scope;
  private final ReadResources resources;

  HistoryInteraction(HistoryScope scope, ReadResources resources) {
    this.scope = scope;
    this.resources = resources;
  }

  /** One for each scope. */
  static List<HistoryInteraction> all(ReadResources resources) {
    return Stream.of(HistoryScope.values())
        .map(scope -> new HistoryInteraction(scope, resources))
        .toList();
  }

  @Override
  public Route route() {
    return scope.route();
  }

  @Override
  public List<Need> needs(FhirRequest request) {
    return scope.needs(request);
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    Changes found = resources.changes(query(request, OperationInput.of(request, NAMES)));
    if (scope == HistoryScope.INSTANCE && found.total() == 0 && unknown(request)) {
      throw ReadInteraction.unknown(request);
    }
    if (scope == HistoryScope.INSTANCE) {
      found.versions().stream()
          .map(StoredResource::patientId)
          .filter(patient -> !patient.isEmpty())
          .findFirst()
          .ifPresent(request.visit()::about);
    }
    return FhirAnswers.json(
        request,
        BundleJson.of(
            "history",
            OptionalLong.of(found.total()),
            links(request, found),
            found.versions().stream().map(version -> entry(request.base(), version)).toList()));
  }

  private boolean unknown(FhirRequest request) {
    ChangeQuery ever =
        new ChangeQuery(
            scope.type(request), scope.id(request), Optional.empty(), Optional.empty(), 1);
    return resources.changes(ever).total() == 0;
  }

  private ChangeQuery query(FhirRequest request, OperationInput input) {
    Optional<Instant> since = input.text(SINCE).map(text -> input.time(SINCE, request.now()));
    return new ChangeQuery(
        scope.type(request),
        scope.id(request),
        since,
        input.text(ResultParameters.AFTER).map(HistoryInteraction::mark),
        input
            .text(ResultParameters.COUNT)
            .map(ResultParameters::number)
            .orElse(ResultParameters.DEFAULT_COUNT));
  }

  private static Mark mark(String text) {
    return ChangeMark.read(text)
        .orElseThrow(
            () ->
                FhirRefusal.badParameter(
                    ResultParameters.AFTER,
                    "Value "
                        + Shown.text(text)
                        + " of parameter "
                        + ResultParameters.AFTER
                        + " is no page of a history; expected the one of a next link."));
  }

  private static Map<String, String> links(FhirRequest request, Changes found) {
    Map<String, String> links = new LinkedHashMap<>();
    List<Parameter> known =
        request.parameters().stream().filter(one -> NAMES.contains(one.name())).toList();
    links.put("self", url(request, known.stream()));
    if (found.more()) {
      StoredResource last = found.versions().get(found.versions().size() - 1);
      String mark = ChangeMark.text(Mark.of(last));
      links.put(
          "next",
          url(
              request,
              Stream.concat(
                  known.stream().filter(one -> !one.name().equals(ResultParameters.AFTER)),
                  Stream.of(new Parameter(ResultParameters.AFTER, mark)))));
    }
    return links;
  }

  private static String url(FhirRequest request, Stream<Parameter> parameters) {
    String query =
        parameters
            .map(one -> QueryText.encode(one.name()) + "=" + QueryText.encode(one.value()))
            .collect(Collectors.joining("&"));
    return request.base()
        + "/"
        + String.join("/", request.path())
        + (query.isEmpty() ? "" : "?" + query);
  }

  /** Ids are derived, so every version is put at its address, the first one included. */
  private static Entry entry(String base, StoredResource version) {
    String made =
        BundleJson.object(
            json -> {
              json.writeStringField("method", "PUT");
              json.writeStringField("url", version.key().reference());
            });
    String answered =
        BundleJson.object(
            json -> {
              json.writeStringField("status", version.version() == 1 ? "201" : "200");
              json.writeStringField("etag", Versioned.eTag(version));
              json.writeStringField("lastModified", version.lastUpdated().toString());
            });
    Entry entry = Entry.of(base, version);
    return new Entry(entry.fullUrl(), entry.json(), Map.of("request", made, "response", answered));
  }

  @Override
  public void describe(Capabilities capabilities) {
    scope.describe(capabilities);
  }
}
