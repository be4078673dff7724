package indwell.bench;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/**
 * Time of the processors that this process and those it started (the database server) have used, as
 * Linux counts it: on a machine that others keep busy it says more than the clock.
 *
 * @param ownTicks hundredths of a second
 * @param serverTicks likewise
 */
record CpuTime(long ownTicks, long serverTicks) {
  private static final double MILLIS = 10;

  /** Fields of {@code /proc/…/stat} behind the name: time in user and system mode. */
  private static final int USER = 11;

  private static final int SYSTEM = 12;

  /** The same of children that have ended. */
  private static final int ENDED_USER = 13;

  private static final int ENDED_SYSTEM = 14;

  /** Up to now. */
  static CpuTime now() {
    ProcessHandle self = ProcessHandle.current();
    return new CpuTime(
        ticks(self, USER, SYSTEM),
        self.descendants()
            .mapToLong(one -> ticks(one, USER, SYSTEM, ENDED_USER, ENDED_SYSTEM))
            .sum());
  }

  /** Used since an earlier moment. */
  CpuTime since(CpuTime earlier) {
    return new CpuTime(ownTicks - earlier.ownTicks, serverTicks - earlier.serverTicks);
  }

  /** For people: milliseconds of each for one of so many things done. */
  String of(long things) {
    return "%.3f ms here, %.3f ms in the database server"
        .formatted(ownTicks * MILLIS / things, serverTicks * MILLIS / things);
  }

  private static long ticks(ProcessHandle process, int... fields) {
    try {
      String stat = Files.readString(Path.of("/proc/" + process.pid() + "/stat"));
      String[] all = stat.substring(stat.lastIndexOf(')') + 2).split(" ");
      long ticks = 0;
      for (int field : fields) {
        ticks += Long.parseLong(all[field]);
      }
      return ticks;
    } catch (IOException ended) {
      return 0;
    }
  }
}
