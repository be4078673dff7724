package indwell.bench;

import java.util.Locale;

/**
 * One comparison.
 *
 * @param ours what was measured, in {@code unit}
 * @param reference what it is held against; a rate is of the same run
 * @param goal the ratio asked for; 0 where it is only printed
 * @param isCost whether less is better and the goal is the most, not the least
 */
record Row(
    String what,
    double ours,
    String againstWhat,
    double reference,
    String unit,
    double goal,
    boolean isCost) {
  /** A rate, of which more is better. */
  Row(String what, double ours, String againstWhat, double reference, String unit, double goal) {
    this(what, ours, againstWhat, reference, unit, goal, false);
  }

  /**
   * What is used up, of which less is better.
   *
   * @param most the highest ratio
   */
  static Row ofCost(
      String what, double ours, String againstWhat, double reference, String unit, double most) {
    return new Row(what, ours, againstWhat, reference, unit, most, true);
  }

  double ratio() {
    return ours / reference;
  }

  /** As a line of a Markdown table. */
  String line() {
    return String.format(
        Locale.ROOT,
        "| %s | %s | %s | %s | %s | %s |",
        what,
        figure(ours),
        againstWhat,
        figure(reference),
        String.format(Locale.ROOT, "**%.2f**", ratio()),
        goal == 0 ? "printed only" : verdict());
  }

  private String figure(double value) {
    return String.format(Locale.ROOT, value < 10 ? "%.2f %s" : "%,.0f %s", value, unit);
  }

  private String verdict() {
    boolean isMet = isCost ? ratio() <= goal : ratio() >= goal;
    return String.format(
        Locale.ROOT, "%s %.2f: %s", isCost ? "<=" : ">=", goal, isMet ? "met" : "missed");
  }
}
