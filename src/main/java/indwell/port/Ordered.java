package indwell.port;

import indwell.fhir.search.SearchValue;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.stream.Stream;

/**
 * Something that a search found, with its place in a {@link SearchOrder}: how orders are meant, for
 * whoever sorts in memory.
 *
 * @param key what the order compares first
 * @param id what it compares then
 */
public record Ordered<T>(long key, String id, T found) {

  /**
   * What the order compares first.
   *
   * @param written when the resource counts as written last, milliseconds
   */
  public static long key(SearchOrder order, long written, Collection<SearchValue> values) {
    if (order.isById()) {
      return 0;
    }
    return order.parameter().equals("_lastUpdated")
        ? written
        : values.stream()
            .filter(value -> value.parameter().equals(order.parameter()))
            .filter(SearchValue.Dated.class::isInstance)
            .mapToLong(value -> ((SearchValue.Dated) value).low())
            .min()
            .orElse(Long.MAX_VALUE);
  }

  /** The page that begins behind the bounds of the query. */
  public static <T> List<Ordered<T>> page(Stream<Ordered<T>> all, ResourceQuery query) {
    Comparator<Ordered<T>> order =
        Comparator.<Ordered<T>>comparingLong(Ordered::key).thenComparing(Ordered::id);
    Comparator<Ordered<T>> directed = query.order().descending() ? order.reversed() : order;
    return all.filter(one -> isAfter(one, query)).sorted(directed).limit(query.limit()).toList();
  }

  private static boolean isAfter(Ordered<?> one, ResourceQuery query) {
    Optional<String> afterId = query.afterId();
    OptionalLong afterKey = query.order().after();
    if (afterId.isEmpty()) {
      return true;
    }
    int byKey = Long.compare(one.key, afterKey.orElse(0));
    int compared = byKey != 0 ? byKey : one.id.compareTo(afterId.get());
    return query.order().descending() ? compared < 0 : compared > 0;
  }
}
