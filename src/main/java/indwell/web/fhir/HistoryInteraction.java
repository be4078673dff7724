package indwell.web.fhir;

import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import indwell.usecase.ReadResources;
import indwell.web.HttpAnswer;
import indwell.web.fhir.BundleJson.Entry;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import java.util.Set;
import org.hl7.fhir.r4.model.CapabilityStatement.TypeRestfulInteraction;

/**
 * All versions of a resource, newest first.
 *
 * <p>Source: https://hl7.org/fhir/R4/http.html#history
 */
final class HistoryInteraction implements Interaction {
  private final ReadResources resources;

  HistoryInteraction(ReadResources resources) {
    this.resources = resources;
  }

  @Override
  public Route route() {
    return Route.of(Set.of("GET"), "{type}/{id}/_history", Set.copyOf(ReadResources.TYPES));
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    OperationInput.of(request, Set.of());
    ResourceKey key = new ResourceKey(request.type(), request.id());
    List<StoredResource> versions = resources.history(key);
    if (versions.isEmpty()) {
      throw ReadInteraction.unknown(request);
    }
    String self = request.base() + "/" + key.reference() + "/_history";
    return FhirAnswers.json(
        request,
        BundleJson.of(
            "history",
            OptionalLong.of(versions.size()),
            Map.of("self", self),
            versions.stream().map(version -> entry(request.base(), version)).toList()));
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
    ReadResources.TYPES.forEach(
        type -> capabilities.interaction(type, TypeRestfulInteraction.HISTORYINSTANCE));
  }
}
