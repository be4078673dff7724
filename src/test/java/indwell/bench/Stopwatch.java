package indwell.bench;

/** Takes the time of work. */
final class Stopwatch {
  private Stopwatch() {}

  /** Work that may fail. */
  interface Work {
    void run() throws Exception;
  }

  /** Seconds that the work took. */
  static double seconds(Work work) {
    long start = System.nanoTime();
    try {
      work.run();
    } catch (Exception e) {
      throw new IllegalStateException(e);
    }
    return (System.nanoTime() - start) / 1e9;
  }

  /** How often a second, so many times done. */
  static double perSecond(int times, Work work) {
    return times / seconds(work);
  }

  /** The fastest of some tries, in seconds: what the machine does beside only adds to a time. */
  static double fastest(int tries, Work work) {
    double best = Double.MAX_VALUE;
    for (int i = 0; i < tries; i++) {
      best = Math.min(best, seconds(work));
    }
    return best;
  }
}
