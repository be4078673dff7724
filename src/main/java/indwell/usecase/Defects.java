package indwell.usecase;

import java.lang.System.Logger;
import java.lang.System.Logger.Level;

/**
 * Logs a defect so that it can be found, and nothing of the patient: exception messages may quote
 * what was sent, so only types and places are written.
 */
public final class Defects {
  private Defects() {}

  /** Writes the types of the exception and of its causes, and where they were thrown. */
  public static void log(Logger log, String what, Throwable defect) {
    StringBuilder text = new StringBuilder(what);
    for (Throwable one = defect; one != null; one = one.getCause()) {
      text.append(System.lineSeparator()).append(one.getClass().getName());
      for (StackTraceElement element : one.getStackTrace()) {
        text.append(System.lineSeparator()).append("  at ").append(element);
      }
    }
    log.log(Level.ERROR, text.toString());
  }
}
