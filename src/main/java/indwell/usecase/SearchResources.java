package indwell.usecase;

import indwell.fhir.map.FhirJson;
import indwell.fhir.search.SearchValues;
import indwell.port.ClinicalStore;
import indwell.port.ClinicalStore.Reading;
import indwell.port.Ordered;
import indwell.port.ResourceQuery;
import indwell.port.SearchOrder;
import indwell.port.StoredResource;
import java.time.Instant;
import java.util.List;
import java.util.OptionalLong;

/** Finds resources, the stored ones and the flags, page by page. */
public final class SearchResources {
  private final ClinicalStore store;
  private final FlagSearch flags;

  public SearchResources(ClinicalStore store, PatientFlags flags) {
    this.store = store;
    this.flags = new FlagSearch(flags);
  }

  /** Whether to say how many there are in all. */
  public enum Total {
    NONE,
    /** Said where it costs little; always for what is stored. */
    IF_CHEAP,
    ACCURATE
  }

  /**
   * One page.
   *
   * @param more whether others come after it
   * @param total of all pages
   * @param lastKey where the last one stands in the order, for the next page
   */
  public record Found(
      List<StoredResource> resources, boolean more, OptionalLong total, OptionalLong lastKey) {
    public Found {
      resources = List.copyOf(resources);
    }

    /** What nothing can meet. */
    public static Found nothing() {
      return new Found(List.of(), false, OptionalLong.of(0), OptionalLong.empty());
    }
  }

  /** Finds the page that the query describes, from one consistent state. */
  public Found find(ResourceQuery query, Total total, Instant now) {
    return store.read(
        state ->
            switch (query.type()) {
              case "Flag" -> flags.find(state, query, total, now);
              case "AuditEvent" -> AuditSearch.find(state, query, total);
              case "Group" -> WardGroups.find(state, query, total, now);
              default -> find(state, query, total);
            });
  }

  /**
   * A reference that is followed.
   *
   * @param source type that refers
   * @param parameter name of the search parameter that holds the reference
   * @param target type that is referred to
   */
  public record Link(String source, String parameter, String target) {}

  /**
   * What the resources refer to, and what refers to them.
   *
   * @return refused when it is too much for one answer
   */
  public Asked<List<StoredResource>> following(
      List<StoredResource> resources, List<Link> forward, List<Link> reverse) {
    return store.read(state -> new FollowReferences(state, resources).follow(forward, reverse));
  }

  private static Found find(Reading state, ResourceQuery query, Total total) {
    List<StoredResource> found =
        query.limit() == 0
            ? List.of()
            : state.search(query.page(query.afterId(), query.limit() + 1));
    List<StoredResource> page = found.subList(0, Math.min(query.limit(), found.size()));
    return new Found(
        page,
        found.size() > page.size(),
        total == Total.NONE ? OptionalLong.empty() : OptionalLong.of(state.count(query)),
        page.isEmpty()
            ? OptionalLong.empty()
            : OptionalLong.of(key(state, query.order(), page.get(page.size() - 1))));
  }

  private static long key(Reading state, SearchOrder order, StoredResource resource) {
    if (order.isById()) {
      return 0;
    }
    long written =
        state.history(resource.key()).stream()
            .mapToLong(version -> version.lastUpdated().toEpochMilli())
            .filter(at -> at <= order.asOf())
            .findFirst()
            .orElse(resource.lastUpdated().toEpochMilli());
    return Ordered.key(order, written, SearchValues.of(FhirJson.parse(resource.json())));
  }
}
