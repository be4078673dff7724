package indwell.web;

import java.util.Arrays;
import java.util.concurrent.atomic.AtomicLong;
import java.util.stream.Collectors;
import org.jboss.logging.Logger;

/**
 * Writes faults of the service itself to the log. Only types and places of a failure are written:
 * messages of exceptions quote what they choked on, and that is data about patients.
 */
public final class FaultLog {
  private static final Logger LOG = Logger.getLogger("indwell.web");
  private static final int FRAMES = 12;
  private static final AtomicLong NUMBER = new AtomicLong();

  private FaultLog() {}

  /** Logs the fault and gives the number by which it can be found in the log. */
  public static long write(String where, Throwable fault) {
    long number = NUMBER.incrementAndGet();
    LOG.errorf("Fault %d in %s: %s", number, where, describe(fault));
    return number;
  }

  /** Types and places of a failure and its causes, without any message. */
  public static String describe(Throwable fault) {
    StringBuilder text = new StringBuilder();
    int depth = 0;
    for (Throwable one = fault; one != null && depth < 5; one = one.getCause()) {
      text.append(depth++ == 0 ? "" : "\n  caused by ").append(one.getClass().getName());
      text.append(
          Arrays.stream(one.getStackTrace())
              .limit(FRAMES)
              .map(frame -> "\n    at " + frame)
              .collect(Collectors.joining()));
    }
    return text.toString();
  }
}
