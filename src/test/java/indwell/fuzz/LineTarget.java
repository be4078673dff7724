package indwell.fuzz;

import indwell.intake.LineSplitter;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Random;

/**
 * Streams cut into lines. The first byte says how the rest is cut into pieces on its way; the lines
 * must not depend on it, and are those that a plain reading of the whole finds.
 */
final class LineTarget implements Target {
  private static final int MOST = 16;

  /** A line as text, one byte a character; empty when it is too large. */
  private record Line(Optional<String> text, long number) {}

  @Override
  public void take(byte[] input) {
    if (input.length == 0) {
      return;
    }
    byte[] stream = Arrays.copyOfRange(input, 1, input.length);
    List<Line> expected = plainly(text(stream));
    compare(expected, split(stream, new Random(input[0])), "in pieces by seed " + input[0]);
    compare(expected, split(stream, null), "byte by byte");
  }

  private static void compare(List<Line> expected, List<Line> got, String how) {
    Oracle.require(expected.equals(got), "Read " + how + ": " + got + "; expected " + expected);
  }

  private static List<Line> split(byte[] stream, Random random) {
    List<Line> lines = new ArrayList<>();
    LineSplitter splitter =
        new LineSplitter(
            MOST, line -> lines.add(new Line(line.bytes().map(LineTarget::text), line.number())));
    for (int from = 0; from < stream.length; ) {
      int to = Math.min(stream.length, from + 1 + (random == null ? 0 : random.nextInt(24)));
      splitter.feed(Arrays.copyOfRange(stream, from, to));
      from = to;
    }
    splitter.finish();
    return lines;
  }

  /** The same by the definition: lines end with LF or CRLF; blank ones and large ones are told. */
  private static List<Line> plainly(String stream) {
    List<Line> lines = new ArrayList<>();
    String[] parts = stream.split("\n", -1);
    for (int i = 0; i < parts.length; i++) {
      String line = parts[i].endsWith("\r") ? chopped(parts[i]) : parts[i];
      if (line.chars().anyMatch(c -> c != ' ' && c != '\t' && c != '\r')) {
        lines.add(new Line(line.length() > MOST ? Optional.empty() : Optional.of(line), i + 1L));
      }
    }
    return lines;
  }

  private static String chopped(String line) {
    return line.substring(0, line.length() - 1);
  }

  private static String text(byte[] bytes) {
    return new String(bytes, java.nio.charset.StandardCharsets.ISO_8859_1);
  }
}
