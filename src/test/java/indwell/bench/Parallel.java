package indwell.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Consumer;

/** Work shared out among threads, each taking the next when it is free. */
final class Parallel {
  private Parallel() {}

  static <T> void each(int threads, List<T> all, Consumer<T> work) {
    ExecutorService pool = Executors.newFixedThreadPool(threads);
    AtomicInteger next = new AtomicInteger();
    List<Future<?>> running = new ArrayList<>();
    for (int i = 0; i < threads; i++) {
      running.add(
          pool.submit(
              () -> {
                for (int at = next.getAndIncrement();
                    at < all.size();
                    at = next.getAndIncrement()) {
                  work.accept(all.get(at));
                }
              }));
    }
    try {
      for (Future<?> one : running) {
        one.get();
      }
    } catch (InterruptedException | ExecutionException e) {
      throw new IllegalStateException(e);
    } finally {
      pool.shutdownNow();
    }
  }
}
