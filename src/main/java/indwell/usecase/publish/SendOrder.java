package indwell.usecase.publish;

import indwell.fhir.publish.Outgoing;
import indwell.port.ResourceKey;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.hl7.fhir.r4.model.Resource;

/**
 * Puts resources in the order in which they are sent: patients, wards, stays, catheters, then the
 * rest, and each after those that it refers to, since a server may refuse a reference to what it
 * does not have.
 */
final class SendOrder {
  private static final List<String> FIRST = List.of("Patient", "Location", "Encounter", "Device");

  private final Map<ResourceKey, Resource> resources;
  private final Set<ResourceKey> visited = new HashSet<>();
  private final List<ResourceKey> order = new ArrayList<>();

  private SendOrder(Map<ResourceKey, Resource> resources) {
    this.resources = resources;
  }

  /**
   * The keys in order; of those of one kind that know nothing of each other, as they come.
   *
   * @param resources oldest change first
   */
  static List<ResourceKey> of(Map<ResourceKey, Resource> resources) {
    SendOrder sending = new SendOrder(new LinkedHashMap<>(resources));
    resources.keySet().stream()
        .sorted(Comparator.comparingInt(SendOrder::rank))
        .forEach(sending::visit);
    return sending.order;
  }

  private static int rank(ResourceKey key) {
    int rank = FIRST.indexOf(key.type());
    return rank < 0 ? FIRST.size() : rank;
  }

  /** Where references make a circle, the one that was met first goes last. */
  private void visit(ResourceKey key) {
    Resource resource = resources.get(key);
    if (resource != null && visited.add(key)) {
      Outgoing.references(resource).stream()
          .map(SendOrder::key)
          .flatMap(Optional::stream)
          .sorted(Comparator.comparingInt(SendOrder::rank).thenComparing(ResourceKey::reference))
          .forEach(this::visit);
      order.add(key);
    }
  }

  /** The key of a relative reference. */
  static Optional<ResourceKey> key(String reference) {
    int slash = reference.indexOf('/');
    return slash < 0
        ? Optional.empty()
        : Optional.of(
            new ResourceKey(reference.substring(0, slash), reference.substring(slash + 1)));
  }
}
