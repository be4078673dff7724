package indwell.bench;

import java.lang.management.CompilationMXBean;
import java.lang.management.ManagementFactory;
import java.util.List;
import java.util.function.Consumer;
import java.util.function.IntToDoubleFunction;

/**
 * Does some work again and again until the compilers of the virtual machine have little left to do
 * on it: what they do beside it a service sees once in weeks.
 */
final class Warming {
  private static final int EPISODES = 500;
  private static final int MOST_ROUNDS = 24;

  /** Of the time that a round takes, the part that the compilers may still work. */
  private static final double LITTLE = 0.05;

  private static final CompilationMXBean COMPILERS = ManagementFactory.getCompilationMXBean();

  private Warming() {}

  /** Episodes that one way of intake may take, so that another can begin behind them. */
  static final int MOST_EPISODES = EPISODES * MOST_ROUNDS;

  /**
   * @param first number of the first episode
   * @param work takes events
   */
  static void by(int first, Consumer<List<byte[]>> work) {
    rounds(
        MOST_ROUNDS,
        round -> {
          List<byte[]> events = House.events(first + round * EPISODES, EPISODES);
          return Stopwatch.seconds(() -> work.accept(events));
        });
  }

  /**
   * @param most rounds
   * @param work says how many seconds it took
   */
  static void rounds(int most, IntToDoubleFunction work) {
    for (int round = 0; round < most; round++) {
      long compiled = COMPILERS.getTotalCompilationTime();
      double seconds = work.applyAsDouble(round);
      if (COMPILERS.getTotalCompilationTime() - compiled < LITTLE * seconds * 1_000) {
        return;
      }
    }
  }
}
