package indwell.adapter.store.memory;

import indwell.port.ChangeQuery;
import indwell.port.ChangeQuery.Mark;
import indwell.port.StoredResource;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;

/** Answers questions about versions by looking at all of them. */
final class MemoryChanges {
  private static final Comparator<Mark> OLDEST_FIRST =
      Comparator.comparingLong(Mark::written)
          .thenComparing(Mark::reference)
          .thenComparingInt(Mark::version);

  private MemoryChanges() {}

  static List<StoredResource> page(State state, ChangeQuery query) {
    return matching(state, query)
        .filter(
            one ->
                query.after().isEmpty()
                    || OLDEST_FIRST.compare(Mark.of(one), query.after().get()) < 0)
        .sorted(Comparator.comparing(Mark::of, OLDEST_FIRST.reversed()))
        .limit(query.limit())
        .toList();
  }

  static long count(State state, ChangeQuery query) {
    return matching(state, query).count();
  }

  private static Stream<StoredResource> matching(State state, ChangeQuery query) {
    return state.resources.values().stream()
        .flatMap(versions -> versions.values().stream())
        .filter(one -> query.type().isEmpty() || query.type().get().equals(one.key().type()))
        .filter(one -> query.id().isEmpty() || query.id().get().equals(one.key().id()))
        .filter(one -> query.since().isEmpty() || !one.lastUpdated().isBefore(query.since().get()));
  }
}
