package indwell.faults;

import java.util.function.Consumer;

/** One way in which things go wrong, on whatever it can go wrong with. */
interface Scenario {

  /** Makes it happen and tells what came of it, a line for each database and way. */
  void run(long seed, int rounds, Consumer<Line> tell) throws Exception;

  /**
   * A line of the table.
   *
   * @param times how often it was made to happen
   */
  record Line(String database, String fault, int times, Aftermath all) {
    static final String HEADER = "| database | fault | times | " + Aftermath.HEADER + " |";

    @Override
    public String toString() {
      return "| %s | %s | %d | %s |".formatted(database, fault, times, all.cells());
    }
  }
}
