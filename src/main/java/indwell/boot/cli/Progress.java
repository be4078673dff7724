package indwell.boot.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;

/** A progress bar on standard error, drawn only on a terminal and only for long input. */
final class Progress implements AutoCloseable {
  private static final long LONG_INPUT_BYTES = 256 * 1024L;
  private static final int CELLS = 40;

  private final PrintWriter err;
  private final long total;
  private final boolean shown;
  private long done;
  private int cellsDrawn = -1;

  /**
   * @param err where to draw
   * @param total bytes of the whole input
   * @param onTerminal whether somebody looks at it
   */
  Progress(PrintWriter err, long total, boolean onTerminal) {
    this.err = err;
    this.total = total;
    this.shown = onTerminal && total >= LONG_INPUT_BYTES;
  }

  /** For these files; on a terminal if there is one. */
  // From JDK 22 on a console is there without a terminal too; then the bar is drawn into a log.
  @SuppressWarnings("SystemConsoleNull")
  static Progress of(PrintWriter err, List<Path> files) {
    return new Progress(err, InputFiles.sizeOf(files), System.console() != null);
  }

  /** So many bytes more are done. */
  synchronized void add(long bytes) {
    done += bytes;
    int cells = (int) Math.min(CELLS, done * CELLS / Math.max(1, total));
    if (shown && cells != cellsDrawn) {
      cellsDrawn = cells;
      err.print(
          "\r[" + "#".repeat(cells) + ".".repeat(CELLS - cells) + "] " + done * 100 / total + " %");
      err.flush();
    }
  }

  @Override
  public void close() {
    if (shown) {
      err.print("\r" + " ".repeat(CELLS + 10) + "\r");
      err.flush();
    }
  }
}
