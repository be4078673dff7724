package indwell.usecase.export;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.port.ResourceKey;
import indwell.port.ResourceText;
import java.nio.charset.StandardCharsets;
import java.util.Optional;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * A line of an export holds one resource, as NDJSON has it: no line break within
 * (https://hl7.org/fhir/uv/bulkdata/, output file: newline delimited JSON).
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class OneLineTest {
  private static final String LINE =
      "{\"resourceType\":\"Device\",\"id\":\"d1\",\"distinctIdentifier\":\"%s\"}";

  @Test
  void a_text_of_one_line_goes_as_it_is() {
    for (String name : new String[] {"A-1", "ä", "𝄞", "\\n", "ĊčĀ"}) {
      assertThat(line(LINE.formatted(name))).contains(LINE.formatted(name));
    }
  }

  @Test
  void a_text_of_several_lines_is_written_anew_wherever_they_break() {
    for (String between : new String[] {"\n", "\r", "\r\n"}) {
      String text = LINE.formatted("A-1");
      for (int at = 1; at < text.length(); at++) {
        if ("{:,".indexOf(text.charAt(at - 1)) >= 0) {
          String broken = text.substring(0, at) + between + text.substring(at);
          assertThat(line(broken)).as(broken).contains(text);
        }
      }
      assertThat(line(text.substring(0, text.length() - 1) + between + "}")).contains(text);
    }
  }

  @Test
  void what_is_no_resource_is_none() {
    assertThat(line("")).isEmpty();
    assertThat(line("{")).isEmpty();
    assertThat(line("[]")).isEmpty();
    assertThat(line("\n{")).isEmpty();
  }

  private static Optional<String> line(String text) {
    byte[] utf8 = text.getBytes(StandardCharsets.UTF_8);
    ResourceText stored = new ResourceText(new ResourceKey("Device", "d1"), utf8);
    return OneLine.of(stored).map(line -> new String(line, StandardCharsets.UTF_8));
  }
}
