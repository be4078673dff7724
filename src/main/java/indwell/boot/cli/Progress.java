package indwell.boot.cli;

import java.io.PrintWriter;

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

  /** For these files; drawn if standard error is a terminal. */
  static Progress of(PrintWriter err, InputFiles input) {
    return new Progress(err, input.size(), Terminal.seesErrors());
  }

  /** So many bytes more are done. */
  synchronized void add(long bytes) {
    done += bytes;
    int cells = (int) Math.min(CELLS, done * CELLS / Math.max(1, total));
    if (shown && cells != cellsDrawn) {
      cellsDrawn = cells;
      err.print(
          "\r["
              + "#".repeat(cells)
              + ".".repeat(CELLS - cells)
              + "] "
              + Math.min(100, done * 100 / total)
              + " %");
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
