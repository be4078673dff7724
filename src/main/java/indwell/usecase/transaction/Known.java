package indwell.usecase.transaction;

import indwell.fhir.map.EnteredInError;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.ResourceId;
import indwell.port.ClinicalStore.Reading;
import indwell.port.ResourceKey;
import indwell.port.ResourceQuery;
import indwell.port.StoredResource;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.hl7.fhir.r4.model.Resource;

/** Stored resources, read and remembered. Their identities never change. */
final class Known {
  private final Optional<Reading> store;
  private final Map<ResourceId, Optional<StoredResource>> read = new HashMap<>();

  Known(Reading store) {
    this(Optional.of(store));
  }

  private Known(Optional<Reading> store) {
    this.store = store;
  }

  /** Nothing is stored. */
  static Known nothing() {
    return new Known(Optional.empty());
  }

  Optional<StoredResource> stored(ResourceId id) {
    return read.computeIfAbsent(id, one -> store.flatMap(state -> state.resource(key(one))));
  }

  Optional<Resource> resource(ResourceId id) {
    return stored(id).map(stored -> FhirJson.parse(stored.json()));
  }

  /** Whether it exists and was not taken back. */
  boolean isLive(ResourceId id) {
    return resource(id).filter(one -> !EnteredInError.isMarked(one)).isPresent();
  }

  /** Those that exist with that identifier and were not taken back; at most two. */
  List<ResourceId> with(String type, Token token) {
    ResourceQuery query =
        new ResourceQuery(type, Set.of(), Set.of(token.text()), Set.of(), Optional.empty(), 10);
    return store.map(state -> state.search(query)).orElse(List.of()).stream()
        .map(stored -> new ResourceId(stored.key().type(), stored.key().id()))
        .filter(this::isLive)
        .limit(2)
        .toList();
  }

  static ResourceKey key(ResourceId id) {
    return new ResourceKey(id.type(), id.id());
  }
}
