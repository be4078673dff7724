package indwell.port;

import java.util.OptionalLong;

/**
 * The order of what a search finds; those that are equal in it come in the order of their ids, in
 * the same direction.
 *
 * @param parameter {@code _id}, {@code _lastUpdated}, or the name of a time that resources have
 * @param descending the largest first
 * @param asOf for {@code _lastUpdated} only: resources are ordered by when they were last written
 *     up to this time, and those made later are left out, so that a resource that is written
 *     between two pages keeps its place; milliseconds since 1970 UTC
 * @param after only what comes after this value and the id of the query; milliseconds. A time that
 *     a resource lacks counts as the largest
 */
public record SearchOrder(String parameter, boolean descending, long asOf, OptionalLong after) {
  /** Ascending by id, from the first. */
  public static final SearchOrder BY_ID =
      new SearchOrder("_id", false, Long.MAX_VALUE, OptionalLong.empty());

  /** Whether ids alone make the order. */
  public boolean isById() {
    return parameter.equals("_id");
  }
}
