package indwell.domain.time;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Seconds as {@code 4-8}; {@code 4-} lasts. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class SpanWithoutOthersTest {

  @ParameterizedTest(name = "{0} without {1} is {2}")
  @CsvSource({
    "4-8, 1-4, 4-8",
    "4-8, 8-9, 4-8",
    "4-8, 1-5, 5-8",
    "4-8, 4-5, 5-8",
    "4-8, 5-6, 4-5 6-8",
    "4-8, 7-9, 4-7",
    "4-8, 7-8, 4-7",
    "4-8, 4-8, ''",
    "4-8, 1-, ''",
    "4-8, 6-, 4-6",
    "4-, 6-7, 4-6 7-",
    "4-, 1-5, 5-",
    "4-, 4-, ''",
    "4-8, 5-5, 4-8",
    "4-9, 5-6 7-8, 4-5 6-7 8-9",
    "4-9, 7-8 5-6, 4-5 6-7 8-9",
    "4-8, '', 4-8",
  })
  void what_is_left(String span, String others, String left) {
    assertThat(text(spans(span).get(0).without(spans(others)))).isEqualTo(left);
  }

  private static List<Span> spans(String text) {
    return Arrays.stream(text.split(" "))
        .filter(one -> !one.isEmpty())
        .map(SpanWithoutOthersTest::span)
        .toList();
  }

  private static Span span(String text) {
    String[] ends = text.split("-");
    return ends.length == 1
        ? Span.since(second(ends[0]))
        : Span.between(second(ends[0]), second(ends[1]));
  }

  private static Instant second(String number) {
    return Instant.ofEpochSecond(Long.parseLong(number));
  }

  private static String text(List<Span> spans) {
    return spans.stream()
        .map(
            span ->
                span.start().getEpochSecond()
                    + "-"
                    + span.end().map(end -> String.valueOf(end.getEpochSecond())).orElse(""))
        .collect(Collectors.joining(" "));
  }
}
