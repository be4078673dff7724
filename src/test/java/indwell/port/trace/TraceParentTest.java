package indwell.port.trace;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * What is continued and what begins anew. Source: W3C Trace Context, Recommendation of 23 November
 * 2021, section 3.2, and the cases of the group's own test suite (w3c/trace-context, test/test.py,
 * test_traceparent_*); the first value is the example of section 3.2.3.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class TraceParentTest {
  private static final String TRACE = "12345678901234567890123456789012";

  @Test
  void the_example_of_the_recommendation_is_read() {
    assertThat(TraceParent.read(List.of("00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01")))
        .contains(new TraceParent("4bf92f3577b34da6a3ce929d0e0e4736", "00f067aa0ba902b7", true));
    assertThat(TraceParent.read(List.of("00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-00")))
        .contains(new TraceParent("4bf92f3577b34da6a3ce929d0e0e4736", "00f067aa0ba902b7", false));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "00-12345678901234567890123456789012-1234567890123456-01",
        "cc-12345678901234567890123456789012-1234567890123456-01",
        "cc-12345678901234567890123456789012-1234567890123456-01-what-the-future-will-be-like"
      })
  void a_trace_of_this_or_a_later_version_is_continued(String given) {
    assertThat(TraceParent.read(List.of(given)))
        .contains(new TraceParent(TRACE, "1234567890123456", true));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "P-1",
        "00-12345678901234567890123456789012-1234567890123456",
        "00-12345678901234567890123456789012-1234567890123456-01.",
        "00-12345678901234567890123456789012-1234567890123456-01-what-the-future-will-be-like",
        "cc-12345678901234567890123456789012-1234567890123456-01.what-the-future-will-be-like",
        "ff-12345678901234567890123456789012-1234567890123456-01",
        ".0-12345678901234567890123456789012-1234567890123456-01",
        "0.-12345678901234567890123456789012-1234567890123456-01",
        "000-12345678901234567890123456789012-1234567890123456-01",
        "0000-12345678901234567890123456789012-1234567890123456-01",
        "0-12345678901234567890123456789012-1234567890123456-01",
        "00-00000000000000000000000000000000-1234567890123456-01",
        "00-.2345678901234567890123456789012-1234567890123456-01",
        "00-1234567890123456789012345678901.-1234567890123456-01",
        "00-123456789012345678901234567890123-1234567890123456-01",
        "00-1234567890123456789012345678901-1234567890123456-01",
        "00-12345678901234567890123456789012-0000000000000000-01",
        "00-12345678901234567890123456789012-.234567890123456-01",
        "00-12345678901234567890123456789012-123456789012345.-01",
        "00-12345678901234567890123456789012-12345678901234567-01",
        "00-12345678901234567890123456789012-123456789012345-01",
        "00-12345678901234567890123456789012-1234567890123456-.0",
        "00-12345678901234567890123456789012-1234567890123456-0.",
        "00-12345678901234567890123456789012-1234567890123456-001",
        "00-12345678901234567890123456789012-1234567890123456-1",
        "00-4BF92F3577B34DA6A3CE929D0E0E4736-00f067aa0ba902b7-01"
      })
  void what_is_not_of_the_form_begins_a_new_trace(String given) {
    assertThat(TraceParent.read(List.of(given))).isEmpty();
  }

  @Test
  void none_or_two_of_them_begin_a_new_trace() {
    assertThat(TraceParent.read(List.of())).isEmpty();
    assertThat(
            TraceParent.read(
                List.of(
                    "00-12345678901234567890123456789011-1234567890123456-01",
                    "00-12345678901234567890123456789012-1234567890123456-01")))
        .isEmpty();
  }

  /** Section 3.2.2.5: of the flags the first bit alone means something. */
  @ParameterizedTest
  @ValueSource(strings = {"01", "03", "ff"})
  void sampled_is_the_last_bit_of_the_flags(String flags) {
    assertThat(TraceParent.read(List.of("00-" + TRACE + "-1234567890123456-" + flags)))
        .map(TraceParent::header)
        .contains("00-" + TRACE + "-1234567890123456-01");
    assertThat(TraceParent.read(List.of("00-" + TRACE + "-1234567890123456-fe")))
        .map(TraceParent::sampled)
        .contains(false);
  }
}
