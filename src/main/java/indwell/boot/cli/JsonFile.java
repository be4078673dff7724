package indwell.boot.cli;

import indwell.intake.GateLimits;
import indwell.intake.GateResult;
import indwell.intake.JsonGate;
import indwell.intake.LineSplitter;
import indwell.intake.LineSplitter.Line;
import java.io.BufferedInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.function.Consumer;

/**
 * Reads a file once, from its beginning to its end, as one JSON document or as one object a line.
 * What it is, its name says ({@code .ndjson}, {@code .jsonl}), and else its content: a first line
 * that is an object of its own, with more behind it. A document is held in memory, of lines one at
 * a time.
 */
final class JsonFile {
  private static final int PIECE = 64 * 1024;

  private final Path file;
  private final int maxDocumentBytes;
  private final Consumer<byte[]> document;
  private final LineSplitter lines;

  /**
   * @param maxDocumentBytes a longer document is cut off one byte behind them
   * @param maxLineBytes a longer line is dropped and told of
   * @param document takes the whole, once, if the file is a document
   * @param line takes each line that is not blank, if it is not
   */
  JsonFile(
      Path file,
      int maxDocumentBytes,
      int maxLineBytes,
      Consumer<byte[]> document,
      Consumer<Line> line) {
    this.file = file;
    this.maxDocumentBytes = maxDocumentBytes;
    this.document = document;
    this.lines = new LineSplitter(maxLineBytes, line);
  }

  /**
   * Reads it.
   *
   * @throws IOException if the file cannot be read; some of its lines may have been handed on
   */
  void read() throws IOException {
    try (InputStream in = new BufferedInputStream(Files.newInputStream(file), PIECE)) {
      byte[] first = InputFiles.isNdjson(file) ? new byte[0] : firstLine(in);
      byte[] second = InputFiles.isNdjson(file) ? new byte[0] : nextThatIsNotBlank(in);
      if (InputFiles.isNdjson(file) || (second.length > 0 && isObject(first))) {
        lines.feed(first);
        lines.feed(second);
        feedTheRest(in);
      } else {
        document.accept(whole(first, second, in));
      }
    }
  }

  private byte[] firstLine(InputStream in) throws IOException {
    ByteArrayOutputStream line = new ByteArrayOutputStream();
    int next = in.read();
    while (next >= 0) {
      line.write(next);
      if (next == '\n' || line.size() > maxDocumentBytes) {
        break;
      }
      next = in.read();
    }
    return line.toByteArray();
  }

  /** Bytes up to and with the first that is no white space; none if there is no such byte. */
  private byte[] nextThatIsNotBlank(InputStream in) throws IOException {
    ByteArrayOutputStream seen = new ByteArrayOutputStream();
    int next = in.read();
    while (next >= 0 && seen.size() < maxDocumentBytes) {
      seen.write(next);
      if (next > ' ') {
        return seen.toByteArray();
      }
      next = in.read();
    }
    return new byte[0];
  }

  private static boolean isObject(byte[] line) {
    GateLimits limits = GateLimits.forOneDocument(Integer.MAX_VALUE, Integer.MAX_VALUE);
    return JsonGate.read(line, limits) instanceof GateResult.Tree tree
        && tree.root() instanceof Map<?, ?>;
  }

  private void feedTheRest(InputStream in) throws IOException {
    byte[] piece = in.readNBytes(PIECE);
    while (piece.length > 0) {
      lines.feed(piece);
      piece = in.readNBytes(PIECE);
    }
    lines.finish();
  }

  private byte[] whole(byte[] first, byte[] second, InputStream in) throws IOException {
    ByteArrayOutputStream whole = new ByteArrayOutputStream();
    whole.writeBytes(first);
    whole.writeBytes(second);
    whole.writeBytes(in.readNBytes(Math.max(0, maxDocumentBytes + 1 - whole.size())));
    return whole.toByteArray();
  }
}
