package indwell.fuzz;

import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;

/**
 * How much processor time an input costs. The time of the thread is read and not a clock, so that a
 * busy machine is not taken for a slow answer; a suspect is taken again, so that the first use of a
 * class is not either.
 */
final class CpuWatch {
  /** The requirement: milliseconds for each kilobyte begun. */
  static final long MOST_MILLIS = 50;

  private static final int AGAIN = 4;
  private static final ThreadMXBean THREADS = ManagementFactory.getThreadMXBean();

  private final Target target;

  CpuWatch(Target target) {
    this.target = target;
  }

  /** Microseconds for each kilobyte begun: the least of several takes where one is suspect. */
  long take(byte[] input) {
    long kilobytes = Math.max(1, (input.length + 1023) / 1024);
    long least = once(input);
    for (int i = 0; i < AGAIN && least > MOST_MILLIS * 1_000 * kilobytes / 2; i++) {
      least = Math.min(least, once(input));
    }
    return least / kilobytes;
  }

  private long once(byte[] input) {
    long before = THREADS.getCurrentThreadCpuTime();
    target.take(input);
    return (THREADS.getCurrentThreadCpuTime() - before) / 1_000;
  }
}
