package indwell.oracle;

import java.util.Objects;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.TreeSet;

/**
 * The cells of both counters in words, by where they stand: {@code A 2026-03-29} for a ward and
 * date of the denominator, {@code p1 as of … 2026-03-29} for a date of a stay.
 */
record Answers(SortedMap<String, String> cells) {

  Answers() {
    this(new TreeMap<>());
  }

  void denominator(String ward, String date, long patientDays, long catheterDays) {
    cells.put(ward + " " + date, patientDays + " patients, " + catheterDays + " with catheter");
  }

  /** Number and ward are null where there is none. */
  void date(
      History.Question asked,
      String date,
      Number number,
      boolean present,
      boolean eligible,
      String ward) {
    cells.put(
        asked.patient() + " as of " + asked.asOf() + ": " + date,
        (number == null ? "no day" : "day " + number)
            + (present ? ", present" : "")
            + (eligible ? ", eligible" : "")
            + (ward == null ? "" : ", " + ward));
  }

  void longestStanding(History.Question asked, String since, Number day) {
    cells.put(
        asked.patient() + " as of " + asked.asOf() + ": open", "since " + since + ", day " + day);
  }

  /** Leaves out how long a catheter has been in place, and keeps the counts. */
  void withoutLongestStanding() {
    cells.keySet().removeIf(cell -> cell.endsWith(": open"));
  }

  /** The cells in which they differ, one a line; empty when they agree. */
  String differencesTo(Answers other) {
    StringBuilder differences = new StringBuilder();
    TreeSet<String> all = new TreeSet<>(cells.keySet());
    all.addAll(other.cells.keySet());
    for (String cell : all) {
      String mine = cells.get(cell);
      String theirs = other.cells.get(cell);
      if (!Objects.equals(mine, theirs)) {
        differences.append(cell).append(" -> SQL: ").append(mine);
        differences.append(" | service: ").append(theirs).append('\n');
      }
    }
    return differences.toString();
  }
}
