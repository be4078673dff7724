package indwell.boot.demo;

import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * One line of the demo's text, read but not yet placed in time.
 *
 * @param when a time or a row of times
 * @param details JSON with placeholders
 * @param name the event's own name; empty when it has none
 * @param version 1 or more
 * @param withdrawn whether it takes the event back
 */
record DemoLine(
    String when,
    String patient,
    String type,
    String details,
    String name,
    int version,
    boolean withdrawn) {
  private static final Pattern IDENTITY =
      Pattern.compile("id ([a-z-]+)(?: version (\\d+))?( entered-in-error)?");

  /**
   * Reads a line of four or five columns.
   *
   * @throws IllegalArgumentException when it has others, or the fifth cannot be read
   */
  static DemoLine parse(String line) {
    String[] column = line.split(" \\| ", -1);
    if (column.length < 4 || column.length > 5) {
      throw new IllegalArgumentException(
          "Demo line '" + line + "' has " + column.length + " columns; expected 4 or 5.");
    }
    if (column.length == 4) {
      return new DemoLine(column[0], column[1], column[2], column[3], "", 1, false);
    }
    Matcher identity = IDENTITY.matcher(column[4]);
    if (!identity.matches()) {
      throw new IllegalArgumentException(
          "Demo identity '" + column[4] + "' cannot be read; expected 'id NAME version 2'.");
    }
    int version = identity.group(2) == null ? 1 : Integer.parseInt(identity.group(2));
    boolean withdrawn = identity.group(3) != null;
    return new DemoLine(
        column[0], column[1], column[2], column[3], identity.group(1), version, withdrawn);
  }
}
