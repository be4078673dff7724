package indwell.web.edge;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Ids of requests, and traces of callers (W3C Trace Context, sections 3.2.1 to 3.2.2.5). */
@DisplayNameGeneration(ReplaceUnderscores.class)
class RequestIdsTest {
  private static final String TRACE = "4bf92f3577b34da6a3ce929d0e0e4736";

  private final RequestIds ids = new RequestIds(1);

  @Test
  void no_two_requests_have_one_id() {
    assertThat(Stream.generate(ids::next).limit(10_000))
        .doesNotHaveDuplicates()
        .allMatch(id -> id.matches("[0-9a-f]{16}"));
  }

  @Test
  void the_trace_of_the_caller_is_taken_over() {
    assertThat(ids.trace("00-" + TRACE + "-00f067aa0ba902b7-01")).isEqualTo(TRACE);
    assertThat(ids.trace("cc-" + TRACE + "-00f067aa0ba902b7-01")).isEqualTo(TRACE);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "P-1",
        "00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7",
        "ff-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01",
        "00-00000000000000000000000000000000-00f067aa0ba902b7-01",
        "00-4bf92f3577b34da6a3ce929d0e0e4736-0000000000000000-01",
        "00-4BF92F3577B34DA6A3CE929D0E0E4736-00f067aa0ba902b7-01",
        "00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01 x"
      })
  void what_is_no_trace_is_replaced_by_a_new_one(String given) {
    assertThat(ids.trace(given)).matches("[0-9a-f]{32}").isNotEqualTo(TRACE);
  }
}
