package indwell.usecase.export;

import indwell.port.ClinicalStore;
import indwell.port.ExportOrder;
import indwell.port.ExportOrder.Scope;
import indwell.port.ResourceKey;
import indwell.port.ResourceQuery;
import indwell.port.ResourceText;
import indwell.port.Standing;
import indwell.port.StoredResource;
import indwell.usecase.SearchResources;
import indwell.usecase.SearchResources.Total;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Consumer;
import java.util.stream.Collectors;

/**
 * Reads what an order asks for. Whole types come in one walk over the record; what a search has to
 * find first comes page by page, each in a transaction of its own: the past is settled, so all of
 * it fits together.
 */
final class ExportSource {
  private static final String FLAG = "Flag";

  private final ClinicalStore store;
  private final SearchResources search;
  private final TypeFilters filters;
  private final ExportOrder order;
  private final Instant at;
  private final int limit;

  /** Empty for any; an empty set for none. */
  private final Optional<Set<String>> patients;

  /**
   * @param at a settled time
   * @param limit most resources of a page of what is searched for
   */
  ExportSource(
      ClinicalStore store,
      SearchResources search,
      TypeFilters filters,
      ExportOrder order,
      Instant at,
      int limit) {
    this.store = store;
    this.search = search;
    this.filters = filters;
    this.order = order;
    this.at = at;
    this.limit = limit;
    this.patients = patients();
  }

  /**
   * A part of the resources of a type.
   *
   * @param next the id to go on behind; empty at the end
   */
  record Page(List<ResourceText> resources, Optional<String> next) {}

  /** All resources of one type, page by page. */
  @FunctionalInterface
  interface Pages {
    /** The part behind that id. */
    Page behind(Optional<String> id);
  }

  /** Walks over all resources of the types that need no search, in no particular order. */
  void whole(Consumer<ResourceText> visit) {
    Map<Optional<Set<String>>, Set<String>> types =
        order.types().stream()
            .filter(type -> !isSearched(type))
            .collect(Collectors.groupingBy(this::patients, Collectors.toSet()));
    types.forEach(
        (of, some) -> {
          if (of.filter(Set::isEmpty).isEmpty()) {
            store.standing(question(some, of), visit);
          }
        });
  }

  /** Whether a search finds what is exported of the type. */
  boolean isSearched(String type) {
    return type.equals(FLAG) || !filters(type).isEmpty();
  }

  private List<String> filters(String type) {
    return order.typeFilters().stream().filter(f -> f.startsWith(type + "?")).toList();
  }

  /** The resources of a type that is searched, ascending by id. */
  Pages of(String type) {
    if (patients(type).filter(Set::isEmpty).isPresent()) {
      return id -> new Page(List.of(), Optional.empty());
    }
    List<String> own = filters(type);
    List<ResourceQuery> queries =
        own.isEmpty()
            ? List.of(everything(type))
            : own.stream().flatMap(f -> filters.query(order.base(), f, at).stream()).toList();
    return id -> found(type, queries, id);
  }

  /** Each search gives its next ones; the first of them all are the next that any of them finds. */
  private Page found(String type, List<ResourceQuery> queries, Optional<String> id) {
    SortedMap<String, StoredResource> all = new TreeMap<>();
    for (ResourceQuery query : queries) {
      search
          .find(query.page(id, limit), Total.NONE, at)
          .resources()
          .forEach(one -> all.put(one.key().id(), one));
    }
    List<StoredResource> next = all.values().stream().limit(limit).toList();
    if (next.isEmpty()) {
      return new Page(List.of(), Optional.empty());
    }
    Optional<String> last = Optional.of(next.get(next.size() - 1).key().id());
    return new Page(type.equals(FLAG) ? asked(next) : stood(type, next), last);
  }

  /** What was found is as it is now; what is exported is as it was. */
  private List<ResourceText> stood(String type, List<StoredResource> found) {
    Set<ResourceKey> keys = found.stream().map(StoredResource::key).collect(Collectors.toSet());
    Standing question = question(Set.of(type), patients(type));
    return store.read(state -> state.standing(question, keys));
  }

  /** A flag has no versions; one that changed since belongs to the next export. */
  private List<ResourceText> asked(List<StoredResource> flags) {
    return flags.stream()
        .filter(one -> !one.lastUpdated().isAfter(at))
        .filter(one -> one.lastUpdated().isAfter(order.since()))
        .filter(one -> one.lastUpdated().isBefore(order.until()))
        .filter(one -> patients.map(only -> only.contains(one.patientId())).orElse(true))
        .map(ResourceText::of)
        .toList();
  }

  private Standing question(Set<String> types, Optional<Set<String>> of) {
    return new Standing(types, at, order.since(), order.until(), of.orElse(Set.of()));
  }

  private ResourceQuery everything(String type) {
    return new ResourceQuery(type, Set.of(), Set.of(), Set.of(), Optional.empty(), limit);
  }

  /** A ward belongs to nobody, and helps to read what belongs to anybody. */
  private Optional<Set<String>> patients(String type) {
    return type.equals("Location") ? Optional.empty() : patients;
  }

  private Optional<Set<String>> patients() {
    Set<String> asked = order.patientIds();
    if (order.scope() != Scope.GROUP) {
      return asked.isEmpty() ? Optional.empty() : Optional.of(asked);
    }
    Set<String> members = new TreeSet<>(WardGroup.members(store, order.groupId()));
    if (!asked.isEmpty()) {
      members.retainAll(asked);
    }
    return Optional.of(members);
  }
}
