package indwell.bench;

import java.time.Duration;
import java.util.stream.Stream;

/**
 * Time of the processors that this process and those it started (the database server) have used: on
 * a machine that others keep busy it says more than the clock.
 */
record CpuTime(Duration own, Duration server) {
  /** Up to now. */
  static CpuTime now() {
    ProcessHandle self = ProcessHandle.current();
    return new CpuTime(of(Stream.of(self)), of(self.descendants()));
  }

  /** Used since an earlier moment. */
  CpuTime since(CpuTime earlier) {
    return new CpuTime(own.minus(earlier.own), server.minus(earlier.server));
  }

  /** For people: milliseconds of each for one of so many things done. */
  String of(int things) {
    return "%.2f ms here, %.2f ms in the database server"
        .formatted(own.toNanos() / 1e6 / things, server.toNanos() / 1e6 / things);
  }

  private static Duration of(Stream<ProcessHandle> processes) {
    return processes
        .map(one -> one.info().totalCpuDuration().orElse(Duration.ZERO))
        .reduce(Duration.ZERO, Duration::plus);
  }
}
