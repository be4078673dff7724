package indwell.domain.time;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Instant;
import java.util.Optional;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

@DisplayNameGeneration(ReplaceUnderscores.class)
class SpanTest {

  @Test
  void the_start_belongs_to_it_and_the_end_does_not() {
    assertThat(span(2, 4).holds(second(1))).isFalse();
    assertThat(span(2, 4).holds(second(2))).isTrue();
    assertThat(span(2, 4).holds(second(3))).isTrue();
    assertThat(span(2, 4).holds(second(4))).isFalse();
    assertThat(Span.since(second(2)).holds(Instant.MAX)).isTrue();
  }

  @Test
  void an_empty_span_holds_nothing() {
    assertThat(span(2, 2).isEmpty()).isTrue();
    assertThat(span(2, 2).holds(second(2))).isFalse();
    assertThat(span(2, 3).isEmpty()).isFalse();
    assertThat(Span.since(second(2)).isEmpty()).isFalse();
  }

  @Test
  void it_cannot_end_before_it_starts() {
    assertThatThrownBy(() -> span(3, 2))
        .hasMessage("Span ends 1970-01-01T00:00:02Z before it starts 1970-01-01T00:00:03Z");
  }

  // Against the span from 4 to 8, or the day from 4 to 8; -1 stands for no end.
  @ParameterizedTest(name = "{0} to {1}: touches {2}, overlap {3} to {4}")
  @CsvSource({
    "1, 3, false, , ",
    "1, 4, false, , ",
    "1, 5, true, 4, 5",
    "4, 8, true, 4, 8",
    "5, 6, true, 5, 6",
    "6, 9, true, 6, 8",
    "8, 9, false, , ",
    "1, 9, true, 4, 8",
    "1, -1, true, 4, 8",
    "8, -1, false, , ",
    "4, 4, true, , ",
    "5, 5, true, , ",
    "8, 8, false, , ",
    "3, 3, false, , ",
  })
  void edges(long start, long end, boolean touches, Long from, Long to) {
    Span one = end < 0 ? Span.since(second(start)) : span(start, end);
    Optional<Span> both = from == null ? Optional.empty() : Optional.of(span(from, to));

    assertThat(one.touches(second(4), second(8))).isEqualTo(touches);
    assertThat(one.overlap(span(4, 8))).isEqualTo(both);
    assertThat(span(4, 8).overlap(one)).isEqualTo(both);
  }

  @Test
  void two_that_last_overlap_for_ever() {
    assertThat(Span.since(second(1)).overlap(Span.since(second(2))))
        .contains(Span.since(second(2)));
  }

  private static Span span(long start, long end) {
    return Span.between(second(start), second(end));
  }

  private static Instant second(long number) {
    return Instant.ofEpochSecond(number);
  }
}
