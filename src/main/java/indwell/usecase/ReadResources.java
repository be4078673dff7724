package indwell.usecase;

import indwell.port.ChangeQuery;
import indwell.port.ClinicalStore;
import indwell.port.ResourceKey;
import indwell.port.ResourceQuery;
import indwell.port.StoredResource;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Gives stored resources back, as they were written. */
public final class ReadResources {
  /** The types of resource that are stored, ascending. */
  public static final List<String> TYPES =
      List.of(
          "Device",
          "DeviceUseStatement",
          "Encounter",
          "Location",
          "Observation",
          "Patient",
          "Procedure",
          "Provenance",
          "Specimen");

  private final ClinicalStore store;

  public ReadResources(ClinicalStore store) {
    this.store = store;
  }

  /** The newest version. */
  public Optional<StoredResource> read(ResourceKey key) {
    return store.read(state -> state.resource(key));
  }

  /** The newest versions of those that exist, from one consistent state, in the order asked for. */
  public List<StoredResource> read(Collection<ResourceKey> keys) {
    Map<ResourceKey, StoredResource> found = store.read(state -> state.resources(keys));
    return keys.stream().flatMap(key -> Optional.ofNullable(found.get(key)).stream()).toList();
  }

  /** The Group of a ward, which is worked out as of now. */
  public Optional<StoredResource> group(String id, Instant now) {
    return store.read(state -> WardGroups.read(state, id, now));
  }

  /** A row of the audit trail as an AuditEvent. */
  public Optional<StoredResource> audited(String id) {
    return store.read(state -> AuditSearch.read(state, id));
  }

  /** One version. */
  public Optional<StoredResource> version(ResourceKey key, int version) {
    return store.read(state -> state.version(key, version));
  }

  /** All versions, newest first; empty when there is no such resource. */
  public List<StoredResource> history(ResourceKey key) {
    return store.read(state -> state.history(key));
  }

  /**
   * One page of a history.
   *
   * @param more whether others come after it
   * @param total versions of all pages
   */
  public record Changes(List<StoredResource> versions, boolean more, long total) {}

  /** The page of the history that the query describes, from one consistent state. */
  public Changes changes(ChangeQuery query) {
    return store.read(
        state -> {
          List<StoredResource> found =
              query.limit() == 0 ? List.of() : state.changes(query.atMost(query.limit() + 1));
          List<StoredResource> page = found.subList(0, Math.min(query.limit(), found.size()));
          return new Changes(page, found.size() > page.size(), state.countChanges(query));
        });
  }

  /**
   * One page of a search and how many there are in all.
   *
   * @param total of all pages
   */
  public record Page(List<StoredResource> resources, long total) {}

  /** The page of the search that the query describes, from one consistent state. */
  public Page search(ResourceQuery query) {
    return store.read(state -> new Page(state.search(query), state.count(query)));
  }
}
