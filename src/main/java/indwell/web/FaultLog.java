package indwell.web;

import indwell.usecase.Defects;
import java.util.concurrent.atomic.AtomicLong;
import org.jboss.logging.Logger;

/** Numbers the faults of the web side, so that an answer and its line in the log can be matched. */
public final class FaultLog {
  private static final Logger LOG = Logger.getLogger("indwell.web");
  private static final AtomicLong NUMBER = new AtomicLong();

  private FaultLog() {}

  /** Logs the fault without anything of a patient and gives its number. */
  public static long write(String where, Throwable fault) {
    long number = NUMBER.incrementAndGet();
    LOG.errorf("Fault %d in %s: %s", number, where, Defects.describe(fault));
    return number;
  }
}
