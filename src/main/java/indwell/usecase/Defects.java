package indwell.usecase;

import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.util.Arrays;
import java.util.stream.Collectors;

/**
 * Writes down a defect so that it can be found, and nothing of the patient: messages of exceptions
 * quote what they choked on, so only types and places are written.
 */
public final class Defects {
  private static final int MOST_FRAMES = 12;
  private static final int MOST_CAUSES = 5;

  private Defects() {}

  /** Logs the failure as an error. */
  public static void log(Logger log, String what, Throwable defect) {
    log.log(Level.ERROR, what + ": " + describe(defect));
  }

  /** Types and places of a failure and its causes, without any message. */
  public static String describe(Throwable defect) {
    StringBuilder text = new StringBuilder();
    int depth = 0;
    for (Throwable one = defect; one != null && depth < MOST_CAUSES; one = one.getCause()) {
      text.append(depth++ == 0 ? "" : "\n  caused by ").append(one.getClass().getName());
      text.append(
          Arrays.stream(one.getStackTrace())
              .limit(MOST_FRAMES)
              .map(frame -> "\n    at " + frame)
              .collect(Collectors.joining()));
    }
    return text.toString();
  }
}
