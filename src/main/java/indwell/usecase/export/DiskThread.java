package indwell.usecase.export;

import java.nio.channels.FileChannel;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;

/**
 * A thread that sends to the disk what was written to files while more is being written. Left to
 * itself a system holds back gigabytes, and whoever completes a file waits for all of it.
 */
final class DiskThread implements Disk, AutoCloseable {
  private final ExecutorService thread =
      Executors.newSingleThreadExecutor(
          task -> {
            Thread one = new Thread(task, "indwell-export-disk");
            one.setDaemon(true);
            return one;
          });

  @Override
  public Future<?> send(FileChannel file) {
    return thread.submit(
        () -> {
          file.force(false);
          return file;
        });
  }

  /** What is under way goes on. */
  @Override
  public void close() {
    thread.shutdown();
  }
}
