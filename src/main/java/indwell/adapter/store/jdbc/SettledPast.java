package indwell.adapter.store.jdbc;

import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;

/** Table {@code settled}. Whoever reads it holds off {@link Database#beginAlone}. */
record SettledPast(Sql sql) {
  private static final String READ = "SELECT until FROM settled WHERE id = 1";

  private static final String MOVE = "UPDATE settled SET until = ? WHERE id = 1";

  /** Up to when, inclusive, nothing is written any more. */
  Instant until() {
    List<Instant> until = new ArrayList<>();
    sql.run(List.of(question(until::add)));
    return until.get(0);
  }

  /** Asks for the same. */
  static Step question(Consumer<Instant> until) {
    return Step.question(
        READ, (statement, first) -> first, row -> Instant.ofEpochMilli(row.getLong(1)), until);
  }

  /** Moves it to the time given, never back; says where it is. */
  Instant moveTo(Instant at) {
    Instant wanted = at.truncatedTo(ChronoUnit.MILLIS);
    Instant before = until();
    if (!wanted.isAfter(before)) {
      return before;
    }
    sql.batch(MOVE, List.of(wanted), (statement, to) -> statement.setLong(1, to.toEpochMilli()));
    return wanted;
  }
}
