package indwell.intake;

import java.io.ByteArrayOutputStream;
import java.util.Optional;
import java.util.function.Consumer;

/**
 * Cuts a stream of bytes into lines as it comes in. Keeps one line at most: a line that grows
 * beyond its limit is dropped at once and told of when it ends. Lines of white space are passed
 * over. Not for use by several threads at once.
 */
public final class LineSplitter {
  private final int maxLineBytes;
  private final Consumer<Line> lines;
  private final ByteArrayOutputStream line = new ByteArrayOutputStream();
  private boolean tooLarge;
  private boolean blank = true;
  private long number = 1;

  /** A carriage return that belongs to the line only if no line feed follows it. */
  private boolean heldReturn;

  /**
   * One line.
   *
   * @param bytes its content without line end; empty when it was larger than allowed
   * @param number where it stands in the stream, from 1, blank lines counted
   */
  public record Line(Optional<byte[]> bytes, long number) {}

  /**
   * A splitter at the start of a stream.
   *
   * @param maxLineBytes bytes of a line without its line end
   * @param lines takes each line in turn
   */
  public LineSplitter(int maxLineBytes, Consumer<Line> lines) {
    this.maxLineBytes = maxLineBytes;
    this.lines = lines;
  }

  /** Takes the next bytes of the stream, in pieces of any size. */
  public void feed(byte[] bytes) {
    int start = 0;
    for (int i = 0; i < bytes.length; i++) {
      if (bytes[i] == '\n') {
        append(bytes, start, i);
        heldReturn = false;
        endLine();
        start = i + 1;
      }
    }
    append(bytes, start, bytes.length);
  }

  /** Tells that the stream has ended; a last line needs no line end. */
  public void finish() {
    heldReturn = false;
    endLine();
  }

  private void append(byte[] bytes, int from, int to) {
    if (from == to) {
      return;
    }
    releaseReturn();
    int end = bytes[to - 1] == '\r' ? to - 1 : to;
    keep(bytes, from, end);
    heldReturn = end < to;
  }

  private void releaseReturn() {
    if (heldReturn) {
      heldReturn = false;
      keep(new byte[] {'\r'}, 0, 1);
    }
  }

  private void keep(byte[] bytes, int from, int to) {
    blank &= isBlank(bytes, from, to);
    if (tooLarge || to - from > maxLineBytes - line.size()) {
      tooLarge = true;
      line.reset();
    } else {
      line.write(bytes, from, to - from);
    }
  }

  private void endLine() {
    if (!blank) {
      lines.accept(new Line(tooLarge ? Optional.empty() : Optional.of(line.toByteArray()), number));
    }
    number++;
    line.reset();
    tooLarge = false;
    blank = true;
  }

  private static boolean isBlank(byte[] bytes, int from, int to) {
    for (int i = from; i < to; i++) {
      if (bytes[i] != ' ' && bytes[i] != '\t' && bytes[i] != '\r') {
        return false;
      }
    }
    return true;
  }
}
