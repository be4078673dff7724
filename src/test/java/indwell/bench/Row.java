package indwell.bench;

import java.util.Locale;

/**
 * One comparison.
 *
 * @param ours the rate of what is measured, in {@code unit}
 * @param reference the rate of what it is held against, in the same run
 * @param goal the ratio asked for; 0 where it is only printed
 */
record Row(
    String what, double ours, String againstWhat, double reference, String unit, double goal) {
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
        goal == 0 ? "printed only" : goal(goal, ratio()));
  }

  private String figure(double value) {
    return String.format(Locale.ROOT, value < 10 ? "%.2f %s" : "%,.0f %s", value, unit);
  }

  private static String goal(double goal, double ratio) {
    return String.format(Locale.ROOT, ">= %.2f: %s", goal, ratio >= goal ? "met" : "missed");
  }
}
