package indwell.usecase.export;

import java.nio.channels.FileChannel;
import java.util.concurrent.Future;

/** Where files have to be before they count as written. */
interface Disk {
  /**
   * Sends what is in the file by now, and does not wait for it.
   *
   * @return tells when it is there; its failure is an {@link java.io.IOException}, of which the
   *     system tells once only
   */
  Future<?> send(FileChannel file);
}
