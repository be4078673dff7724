package indwell.usecase.publish;

import indwell.fhir.publish.Outgoing;
import indwell.port.ClinicalStore;
import indwell.port.Outbox;
import indwell.port.Publication;
import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.hl7.fhir.r4.model.Resource;

/**
 * What is sent of a lane in one go: the newest versions of what waits, together with what they
 * refer to and the other server never had.
 *
 * @param stored as they are kept
 * @param resources as they are sent, with our ids
 * @param known how far those, and all they refer to, have been told
 */
record Load(
    Map<ResourceKey, StoredResource> stored,
    Map<ResourceKey, Resource> resources,
    Map<ResourceKey, Publication> known) {

  /**
   * Reads them; oldest change first, what is referred to behind.
   *
   * @param waiting what waits in the lane
   */
  static Load of(ClinicalStore store, Outbox outbox, List<Publication> waiting) {
    Load load = new Load(new LinkedHashMap<>(), new LinkedHashMap<>(), new LinkedHashMap<>());
    Collection<ResourceKey> more = waiting.stream().map(Publication::key).toList();
    while (!more.isEmpty()) {
      load.add(store, more);
      Set<ResourceKey> strangers = load.strangers();
      load.known.putAll(outbox.known(strangers));
      more =
          strangers.stream()
              .filter(key -> !load.stored.containsKey(key) && !load.sent(key))
              .toList();
      more = existing(store, more);
    }
    return load;
  }

  private static Collection<ResourceKey> existing(
      ClinicalStore store, Collection<ResourceKey> keys) {
    return keys.isEmpty() ? keys : store.read(state -> state.resources(keys)).keySet();
  }

  private void add(ClinicalStore store, Collection<ResourceKey> keys) {
    Map<ResourceKey, StoredResource> found = store.read(state -> state.resources(keys));
    for (ResourceKey key : keys) {
      Optional.ofNullable(found.get(key))
          .ifPresent(
              one -> {
                stored.put(key, one);
                resources.put(key, Outgoing.of(one.json()));
              });
    }
  }

  /** The resources, and what they refer to, of which nobody has asked how far they are told. */
  private Set<ResourceKey> strangers() {
    Set<ResourceKey> keys =
        resources.values().stream()
            .flatMap(one -> Outgoing.references(one).stream())
            .flatMap(reference -> SendOrder.key(reference).stream())
            .collect(Collectors.toSet());
    keys.addAll(resources.keySet());
    keys.removeAll(known.keySet());
    return keys;
  }

  private boolean sent(ResourceKey key) {
    return Optional.ofNullable(known.get(key)).filter(Publication::sent).isPresent();
  }

  /** References that a resource makes. */
  Set<String> references(ResourceKey key) {
    return Optional.ofNullable(resources.get(key)).map(Outgoing::references).orElseThrow();
  }
}
