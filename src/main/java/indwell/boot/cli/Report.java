package indwell.boot.cli;

import java.io.PrintWriter;

/** Writes down what was found, one resource after the other, in the order of the input. */
interface Report extends AutoCloseable {
  /** Takes the next one; those of one file come one behind the other. */
  void add(Judged one);

  /** Tells that there are no more. */
  @Override
  void close();

  /** The forms that a report can have; {@code --format} names them in lower case. */
  enum Format {
    TEXT,
    JSON,
    JUNIT;

    Report open(PrintWriter out) {
      return switch (this) {
        case TEXT -> new TextReport(out);
        case JSON -> new JsonReport(out);
        case JUNIT -> new JunitReport(out);
      };
    }
  }
}
