package indwell.domain.timeline;

import indwell.domain.refusal.IssueCode;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

/**
 * What follows from an event, by what is known before it: a cell for every pair.
 *
 * @param <B> what is known before
 * @param <E> what happens
 * @param <A> what follows
 */
class ConflictTable<B extends Enum<B>, E extends Enum<E>, A extends Enum<A>> {
  private final Map<B, Map<E, Cell<A>>> cells;

  /**
   * One cell.
   *
   * @param remarks what is doubtful about it, in the order in which it is said; mostly nothing
   */
  record Cell<A>(A action, List<IssueCode> remarks) {
    Cell {
      remarks = List.copyOf(remarks);
    }
  }

  /** One row of the file: a pair and its cell. */
  record Row<B, E, A>(B before, E event, Cell<A> cell) {}

  /**
   * A table of these rows.
   *
   * @throws IllegalStateException if a pair has no row, or two
   */
  ConflictTable(Class<B> before, Class<E> event, List<Row<B, E, A>> rows) {
    cells = new EnumMap<>(before);
    for (B one : before.getEnumConstants()) {
      cells.put(one, new EnumMap<>(event));
    }
    for (Row<B, E, A> row : rows) {
      if (of(row.before()).put(row.event(), row.cell()) != null) {
        throw new IllegalStateException("Two cells for " + row.before() + " and " + row.event());
      }
    }
    for (B one : before.getEnumConstants()) {
      for (E other : event.getEnumConstants()) {
        cell(one, other);
      }
    }
  }

  /** The same cells, for a table that looks on. */
  ConflictTable(ConflictTable<B, E, A> other) {
    cells = other.cells;
  }

  /** What follows; there is a cell for every pair. */
  Cell<A> cell(B before, E event) {
    Cell<A> cell = of(before).get(event);
    if (cell == null) {
      throw new IllegalStateException("No cell for " + before + " and " + event);
    }
    return cell;
  }

  private Map<E, Cell<A>> of(B before) {
    Map<E, Cell<A>> row = cells.get(before);
    if (row == null) {
      throw new IllegalStateException("No row for " + before);
    }
    return row;
  }
}
