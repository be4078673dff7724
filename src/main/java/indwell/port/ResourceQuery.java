package indwell.port;

import indwell.fhir.search.SearchValue;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * A search over the newest versions of the resources of one type. All conditions hold together.
 *
 * @param type resource type
 * @param ids only these ids; empty means any
 * @param identifiers only resources with one of these tokens: {@code system|value}, {@code |value}
 *     (no system: never met here), {@code value} (any system) or {@code system|} (any value); empty
 *     means any
 * @param patientIds only resources of these patients; empty means any
 * @param conditions on search parameters, that for identifiers and {@code _lastUpdated} among them;
 *     {@code _id} and the patient are not
 * @param order in which they are given
 * @param afterId only what comes after this id in that order, for the next page
 * @param limit at most so many
 */
public record ResourceQuery(
    String type,
    Set<String> ids,
    Set<String> identifiers,
    Set<String> patientIds,
    List<SearchCondition> conditions,
    SearchOrder order,
    Optional<String> afterId,
    int limit) {
  public ResourceQuery {
    ids = Set.copyOf(ids);
    identifiers = Set.copyOf(identifiers);
    patientIds = Set.copyOf(patientIds);
    conditions = List.copyOf(conditions);
  }

  /** Without further conditions, in the order of ids. */
  public ResourceQuery(
      String type,
      Set<String> ids,
      Set<String> identifiers,
      Set<String> patientIds,
      Optional<String> afterId,
      int limit) {
    this(type, ids, identifiers, patientIds, List.of(), SearchOrder.BY_ID, afterId, limit);
  }

  /** The same with other page bounds. */
  public ResourceQuery page(Optional<String> after, int most) {
    return new ResourceQuery(type, ids, identifiers, patientIds, conditions, order, after, most);
  }

  /**
   * Whether a resource meets it, its page bounds aside.
   *
   * @param values what the resource can be found by, its identifiers and its time of writing aside
   */
  public boolean isMetBy(StoredResource resource, Collection<SearchValue> values) {
    return isMetBy(
        resource.key(),
        resource.patientId(),
        resource.identifiers(),
        resource.lastUpdated().toEpochMilli(),
        values);
  }

  /** The same for what is not stored. */
  public boolean isMetBy(
      ResourceKey key,
      String patientId,
      List<String> tokens,
      long written,
      Collection<SearchValue> values) {
    List<SearchValue> all = new ArrayList<>(values);
    tokens.forEach(token -> all.add(identifier(token)));
    all.add(new SearchValue.Dated("_lastUpdated", written, written + 1));
    return key.type().equals(type)
        && (ids.isEmpty() || ids.contains(key.id()))
        && (patientIds.isEmpty() || patientIds.contains(patientId))
        && (identifiers.isEmpty() || tokens.stream().anyMatch(this::isIdentified))
        && conditions.stream().allMatch(condition -> condition.holds(all));
  }

  private boolean isIdentified(String token) {
    return identifiers.stream().anyMatch(asked -> meets(token, asked));
  }

  private static boolean meets(String token, String asked) {
    int bar = asked.indexOf('|');
    if (bar < 0) {
      return token.substring(token.indexOf('|') + 1).equals(asked);
    }
    boolean anyValue = bar > 0 && bar == asked.length() - 1;
    return anyValue ? token.startsWith(asked) : token.equals(asked);
  }

  private static SearchValue identifier(String token) {
    int bar = token.indexOf('|');
    return new SearchValue.Coded(
        "identifier", token.substring(0, Math.max(bar, 0)), token.substring(bar + 1));
  }
}
