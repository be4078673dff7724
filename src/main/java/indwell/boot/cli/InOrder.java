package indwell.boot.cli;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.function.Consumer;

/**
 * Has work done side by side and hands the results on in the order in which the work was given,
 * whatever the threads do. Holds only so much at once: who gives more waits for the oldest.
 *
 * @param <R> a result
 */
final class InOrder<R> implements AutoCloseable {
  private final ExecutorService threads;
  private final Consumer<R> take;
  private final int most;
  private final long mostWeight;
  private final Deque<Waiting<R>> waiting = new ArrayDeque<>();
  private long weight;

  private record Waiting<R>(Future<R> result, long weight) {}

  /**
   * @param count threads, at least 1
   * @param most results that may wait for an older one, at least 1
   * @param mostWeight of all work that is held at once; one piece may weigh more
   * @param take is called by the thread that gives the work
   */
  InOrder(int count, int most, long mostWeight, Consumer<R> take) {
    this.threads = Executors.newFixedThreadPool(count);
    this.most = most;
    this.mostWeight = mostWeight;
    this.take = take;
  }

  /**
   * Gives work.
   *
   * @param workWeight what it holds in memory, in the measure of the constructor
   */
  void add(long workWeight, Callable<R> work) {
    while (!waiting.isEmpty()
        && (waiting.size() >= most
            || weight + workWeight > mostWeight
            || waiting.getFirst().result().isDone())) {
      handOn();
    }
    waiting.add(new Waiting<>(threads.submit(work), workWeight));
    weight += workWeight;
  }

  /** Hands on all that is left. */
  void finish() {
    while (!waiting.isEmpty()) {
      handOn();
    }
  }

  private void handOn() {
    Waiting<R> oldest = waiting.removeFirst();
    weight -= oldest.weight();
    try {
      take.accept(oldest.result().get());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException("Interrupted while waiting for a result", e);
    } catch (ExecutionException e) {
      throw new IllegalStateException("Work failed that answers for its failures", e.getCause());
    }
  }

  /** Stops; what was not handed on is dropped. */
  @Override
  public void close() {
    threads.shutdownNow();
  }
}
