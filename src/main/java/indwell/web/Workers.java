package indwell.web;

import java.util.concurrent.Executor;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.ThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;

/**
 * Threads for work that waits for the store or computes; the event loops must do neither. What is
 * let in is bounded by who calls, so the queue itself has no bound.
 */
public final class Workers implements Executor {
  private final ExecutorService pool;

  /**
   * @param name of the threads
   * @param threads how many
   */
  public Workers(String name, int threads) {
    AtomicInteger number = new AtomicInteger();
    ThreadPoolExecutor executor =
        new ThreadPoolExecutor(
            threads,
            threads,
            30,
            TimeUnit.SECONDS,
            new LinkedBlockingQueue<>(),
            task -> {
              Thread thread = new Thread(task, name + "-" + number.incrementAndGet());
              thread.setDaemon(true);
              return thread;
            });
    executor.allowCoreThreadTimeOut(true);
    pool = executor;
  }

  /**
   * Runs the task on one of the threads, for the errand of the code that runs now.
   *
   * @throws RejectedExecutionException after {@link #stop}
   */
  @Override
  public void execute(Runnable task) {
    pool.execute(RequestNotes.errand().carrying(task));
  }

  /** Takes nothing more and waits for what is in work; false when that took too long. */
  public boolean stop(long millis) {
    pool.shutdown();
    try {
      return pool.awaitTermination(millis, TimeUnit.MILLISECONDS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return false;
    }
  }
}
