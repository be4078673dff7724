package indwell.adapter.validation;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Leaves are read character by character; here they are read by patterns and by the calendar of the
 * platform, on texts that are right or nearly so.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class LeafTest {
  private static final int TEXTS = 60_000;
  private static final long NANOS = 1_000_000_000;

  private static final Pattern TIME =
      Pattern.compile(
          "20\\d\\d-\\d\\d-\\d\\dT\\d\\d:\\d\\d:\\d\\d(?:\\.(\\d{1,9}))?"
              + "(?:Z|[+-](?:0\\d|1[0-3]):[0-5]\\d|[+-]14:00)");

  private static final Pattern REFERENCE =
      Pattern.compile("([A-Z][A-Za-z]{1,39})/([A-Za-z0-9.-]{1,64})(?:/_history/([0-9]{1,9}))?");

  private static final Pattern NUMBER = Pattern.compile("(?:0|[1-9]\\d{0,8})(?:\\.(\\d{1,9}))?");

  private static final Pattern NAME = Pattern.compile("[A-Za-z0-9][A-Za-z0-9._:/#-]{0,200}");

  private static final Pattern ID = Pattern.compile("[A-Za-z0-9.-]{1,64}");

  private static final List<String> RIGHT =
      List.of(
          "2026-03-29T01:30:00Z",
          "2026-02-28T23:59:59.5+01:00",
          "2000-02-29T00:00:00-13:59",
          "2099-12-31T23:59:59.999999999+14:00",
          "2026-11-30T12:00:00.000-00:00",
          "Patient/a",
          "Procedure/7f3.A-9/_history/12",
          "Observation/" + "x".repeat(64) + "/_history/123456789",
          "A" + "b".repeat(39) + "/1",
          "0",
          "10",
          "123456789.123456789",
          "0.00",
          "A1._:/#-",
          "n".repeat(201),
          "i".repeat(64));

  static List<String> right() {
    return RIGHT;
  }

  @ParameterizedTest
  @MethodSource("right")
  void each_example_is_some_leaf(String text) {
    assertThat(
            LeafTime.nanos(text).isPresent()
                || LeafReference.of(text).isPresent()
                || Leaf.number(text).isPresent()
                || Leaf.isIdentifierValue("s", text)
                || Leaf.isId(text))
        .isTrue();
  }

  @Test
  void leaves_are_what_the_patterns_say_on_texts_that_are_nearly_right() {
    Random random = new Random(20_261_128);
    int[] found = new int[5];
    for (int i = 0; i < TEXTS; i++) {
      String text = nearly(RIGHT.get(random.nextInt(RIGHT.size())), random);
      found[0] += sameTime(text);
      found[1] += sameReference(text);
      found[2] += sameNumber(text);
      boolean name = NAME.matcher(text).matches();
      found[3] += name ? 1 : 0;
      assertThat(Leaf.isIdentifierValue("s", text)).as(text).isEqualTo(name);
      boolean id = ID.matcher(text).matches();
      found[4] += id ? 1 : 0;
      assertThat(Leaf.isId(text)).as(text).isEqualTo(id);
    }
    assertThat(Arrays.stream(found).min().orElseThrow())
        .as("of each kind")
        .isGreaterThan(TEXTS / 60);
  }

  private static int sameTime(String text) {
    Optional<Instant> expected = time(text);
    assertThat(LeafTime.nanos(text).stream().boxed().findFirst())
        .as(text)
        .isEqualTo(expected.map(at -> at.getEpochSecond() * NANOS + at.getNano()));
    return expected.isPresent() ? 1 : 0;
  }

  private static Optional<Instant> time(String text) {
    if (!TIME.matcher(text).matches()) {
      return Optional.empty();
    }
    try {
      return Optional.of(OffsetDateTime.parse(text).toInstant());
    } catch (DateTimeException noSuchTime) {
      return Optional.empty();
    }
  }

  private static int sameReference(String text) {
    Matcher parts = REFERENCE.matcher(text);
    Optional<LeafReference> expected =
        parts.matches()
            ? Optional.of(new LeafReference(parts.group(1), parts.group(2), parts.group(3) != null))
            : Optional.empty();
    assertThat(LeafReference.of(text)).as(text).isEqualTo(expected);
    return expected.isPresent() ? 1 : 0;
  }

  private static int sameNumber(String text) {
    Matcher parts = NUMBER.matcher(text);
    Optional<String> expected = Optional.empty();
    if (parts.matches()) {
      boolean zero = text.chars().allMatch(c -> c == '0' || c == '.');
      int decimals = parts.group(1) == null ? 0 : parts.group(1).length();
      expected = Optional.of((zero ? "0." : "n.") + decimals);
    }
    assertThat(Leaf.number(text)).as(text).isEqualTo(expected);
    return expected.isPresent() ? 1 : 0;
  }

  /** Changes, adds or takes away up to two characters; of digits other digits, mostly. */
  private static String nearly(String right, Random random) {
    StringBuilder text = new StringBuilder(right);
    for (int i = random.nextInt(3); i > 0 && !text.isEmpty(); i--) {
      int at = random.nextInt(text.length());
      switch (random.nextInt(6)) {
        case 0 -> text.deleteCharAt(at);
        case 1 -> text.insert(at, other(random));
        case 2 -> text.setCharAt(at, other(random));
        default -> text.setCharAt(at, digitFor(text.charAt(at), random));
      }
    }
    return text.toString();
  }

  private static char digitFor(char c, Random random) {
    return Character.isDigit(c) ? (char) ('0' + random.nextInt(10)) : c;
  }

  private static char other(Random random) {
    String some = "0159TZ+-:./_# aAzZ[@`{\u00e9\u0660\n";
    return some.charAt(random.nextInt(some.length()));
  }
}
