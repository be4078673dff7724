package indwell.intake;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Lines of a stream, whatever pieces it comes in.
 *
 * <p>Source: contract, section 2 (blank lines, and lines that are too large);
 * https://github.com/ndjson/ndjson-spec for the ends of lines.
 */
@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class LineSplitterTest {
  private static final int MOST = 5;

  /** In the rows {@code n} is a line feed, {@code r} a carriage return, {@code _} a blank. */
  @ParameterizedTest
  @CsvSource({
    "'', ''",
    "a, a",
    "an, a",
    "anb, a|b",
    "anbn, a|b",
    "arnbrn, a|b",
    "ar, a",
    "arbn, arb",
    "arrn, ar",
    "nnanrnn__nbn, a|b",
    "_an, _a",
    "12345n, 12345",
    "123456n, too large",
    "123456, too large",
    "12345rn, 12345",
    "12345rbn, too large",
    "1234567890123nbn, too large|b",
    "_______n, ''",
    "_______an, too large",
  })
  void cuts_lines(String stream, String lines) {
    assertThat(split(stream, stream.length() + 1)).isEqualTo(lines);
  }

  @Property(seed = "20261125")
  void cuts_the_same_lines_whatever_the_pieces(
      @ForAll("streams") String stream, @ForAll @IntRange(min = 1, max = 9) int piece) {
    assertThat(split(stream, piece)).isEqualTo(expected(stream));
  }

  @Provide
  Arbitrary<String> streams() {
    return Arbitraries.strings().withChars("abnr_").ofMaxLength(40);
  }

  /** The rule once more, on the whole text at once. */
  private static String expected(String stream) {
    List<String> lines = new ArrayList<>();
    for (String line : stream.split("n", -1)) {
      String content = line.endsWith("r") ? line.substring(0, line.length() - 1) : line;
      if (!content.replaceAll("[_r]", "").isEmpty()) {
        lines.add(content.length() > MOST ? "too large" : content);
      }
    }
    return String.join("|", lines);
  }

  private static String split(String stream, int piece) {
    byte[] bytes =
        stream
            .replace('n', '\n')
            .replace('r', '\r')
            .replace('_', ' ')
            .getBytes(StandardCharsets.US_ASCII);
    List<String> lines = new ArrayList<>();
    LineSplitter splitter = new LineSplitter(MOST, line -> lines.add(shown(line)));
    for (int i = 0; i < bytes.length; i += piece) {
      splitter.feed(Arrays.copyOfRange(bytes, i, Math.min(bytes.length, i + piece)));
    }
    splitter.finish();
    return String.join("|", lines);
  }

  private static String shown(LineSplitter.Line line) {
    return line.bytes()
        .map(bytes -> new String(bytes, StandardCharsets.US_ASCII))
        .map(text -> text.replace('\r', 'r').replace(' ', '_'))
        .orElse("too large");
  }
}
