package indwell.intake;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.refusal.IssueCode;
import java.nio.charset.StandardCharsets;
import java.util.HexFormat;
import java.util.OptionalInt;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Source of the byte sequences: RFC 3629 section 3 (overlong, surrogates, beyond U+10FFFF). */
@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class Utf8Test {

  @ParameterizedTest
  @CsvSource({
    "22 41 22, -1, ASCII",
    "22 c3 a9 22, -1, two bytes",
    "22 e2 82 ac 22, -1, three bytes",
    "22 f0 9f 98 80 22, -1, four bytes",
    "22 ef bb bf 22, -1, a byte order mark inside a string is a character",
    "22 f4 8f bf bf 22, -1, U+10FFFF",
    "ef bb bf 22 22, 0, a byte order mark",
    "fe ff 00 7b 00 7d, 0, UTF-16 with a mark",
    "00 7b 00 7d, 0, UTF-16 without a mark",
    "7b 00 7d 00, 1, UTF-16 little endian",
    "7b 00 00 00 7d 00 00 00, 1, UTF-32",
    "22 c0 80 22, 1, overlong zero",
    "22 c1 bf 22, 1, overlong two bytes",
    "22 e0 80 af 22, 1, overlong three bytes",
    "22 f0 80 80 af 22, 1, overlong four bytes",
    "22 ed a0 80 22, 1, a high surrogate",
    "22 ed bf bf 22, 1, a low surrogate",
    "22 f4 90 80 80 22, 1, beyond U+10FFFF",
    "22 80 22, 1, a lone continuation",
    "22 c3 22, 1, a continuation missing",
    "22 22 c3, 2, cut off at the end",
    "22 22 f0 9f 98, 2, cut off at the end of four",
    "22 ff 22, 1, a byte that never occurs",
  })
  void finds_the_first_byte_that_is_no_UTF_8(String hex, int at, String what) {
    byte[] bytes = HexFormat.ofDelimiter(" ").parseHex(hex);
    assertThat(Utf8.firstFault(bytes))
        .as(what)
        .isEqualTo(at < 0 ? OptionalInt.empty() : OptionalInt.of(at));
    GateResult result = JsonGate.read(bytes, EventBodies.SINGLE);
    assertThat(result instanceof GateResult.Stopped).isEqualTo(at >= 0);
    if (result instanceof GateResult.Stopped stopped) {
      assertThat(stopped)
          .isEqualTo(
              new GateResult.Stopped(
                  IssueCode.MALFORMED_JSON,
                  "The text is no UTF-8 at byte "
                      + (at + 1)
                      + "; expected one JSON value in UTF-8."));
    }
  }

  @Test
  void finds_a_fault_behind_any_number_of_bytes() {
    byte[] bytes = "é".repeat(100_000).getBytes(StandardCharsets.UTF_8);
    bytes[150_001] = 'x';
    assertThat(Utf8.firstFault(bytes)).hasValue(150_000);
  }
}
