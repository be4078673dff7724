package indwell.adapter.validation;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The scanner against {@link TokenShape}, which says the same by a library's tokens. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ShapeScannerTest {
  private static final int ROUNDS = 900;

  /** What one text of JSON and another differ in, and what stands in none. */
  private static final List<String> PIECES =
      List.of(
          "\"",
          "\\",
          "{",
          "}",
          "[",
          "]",
          ",",
          ":",
          " ",
          "\n",
          "\u0000",
          "\u0001",
          "\u001f",
          "\u007f",
          "-",
          "0",
          "1",
          "9",
          ".",
          "E",
          "e",
          "+",
          "00",
          "1E5",
          "null",
          "true",
          "nul",
          "\\n",
          "\\/",
          "\\u0001",
          "\\u001F",
          "\\u001f",
          "\\u000A",
          "\\u0041",
          "\\u00",
          "\\x",
          "\ud834\udd1e",
          "\ud834",
          "\udd1e",
          "é",
          "€",
          "\u2028",
          "\"a\":1,",
          ",\"id\":\"a\"",
          "{\"a\":{}}",
          "[[1]]",
          "\"system\":\"urn:ietf:x\",",
          "Z",
          "a",
          "/",
          "T");

  private static final List<String> SMALL =
      List.of(
          "{\"a\":[1,-0,2.50,1E+3,1e-9,true,false,null]}",
          "{\"id\":\"a\",\"x\":{\"id\":\"a\"},\"y\":{\"id\":\"b\"}}",
          "{\"identifier\":[{\"system\":\"s\",\"value\":\"a\"}],\"id\":\"a\"}",
          "{\"valueIdentifier\":{\"value\":\"a\",\"system\":\"s\"},\"identifier\":{\"system\":\"s\",\"value\":\"b\"}}",
          "{\"valueQuantity\":{\"value\":1.0},\"value\":1.0,\"start\":\"2026-01-01T10:00:00Z\"}",
          "{\"valueQuantity\":{\"value\":[1.0]},\"start\":[{\"a\":1},\"2026-01-01T10:00:00Z\"]}",
          "{\"end\":[\"2026-01-01T10:00:00Z\",\"2026-01-01T11:00:00+01:00\"],\"meta\":{\"versionId\":\"1\"}}",
          "{\"reference\":\"Patient/1\",\"a\":{\"reference\":\"Patient/1/_history/1\"},\"versionId\":\"1\"}",
          "{\"valueIdentifier\":{\"system\":\"urn:ietf:x\",\"value\":\"1234567890\"}}",
          "{\"reference\":\"Patient/1\"}",
          "{\"reference\":\"rPatient0-\"}",
          "{\"text\":\"\\\"\\\\\\b\\t\\n\\f\\r\\u0001\\u001F / é € \ud834\udd1e \u007f\"}");

  /** What each shape and each sequence of tokens stands for, over all that a test has seen. */
  private final Map<String, List<String>> tokensOf = new HashMap<>();

  private final Map<List<String>, String> shapeOf = new HashMap<>();
  private int sound;
  private int unsound;
  private int met;

  @Test
  void the_scanner_and_the_tokens_say_the_same_of_valid_cases_and_of_texts_nearly_like_them() {
    Random random = new Random(20_261_129);
    Mutants mutants = new Mutants(20_261_130);
    for (String text : texts()) {
      assertThat(ShapeScanner.shapeText(text)).as(text).isPresent();
      compare(text);
      for (int i = 0; i < ROUNDS; i++) {
        compare(i % 2 == 0 ? nearly(text, random) : digitChanged(text, random));
        if (i % 10 == 0 && text.contains("resourceType")) {
          byte[] mutant = mutants.of(text.getBytes(StandardCharsets.UTF_8));
          compare(new String(mutant, StandardCharsets.UTF_8));
        }
      }
    }
    assertThat(sound).as("with a shape").isGreaterThan(8_000);
    assertThat(unsound).as("without one").isGreaterThan(8_000);
    assertThat(met).as("of the shape of another text").isGreaterThan(2_000);
  }

  private static List<String> texts() {
    List<String> texts = new ArrayList<>(SMALL);
    Cases.files(Cases.VALID, ".json")
        .forEach(
            file -> texts.add(new String(Cases.bytes(Cases.json(file)), StandardCharsets.UTF_8)));
    return texts;
  }

  private void compare(String text) {
    Optional<String> shape = ShapeScanner.shapeText(text);
    Optional<List<String>> tokens = TokenShape.of(text);
    assertThat(shape.isPresent()).as(text).isEqualTo(tokens.isPresent());
    if (shape.isEmpty()) {
      unsound++;
      return;
    }
    sound++;
    List<String> before = tokensOf.putIfAbsent(shape.get(), tokens.get());
    String other = shapeOf.putIfAbsent(tokens.get(), shape.get());
    met += before == null ? 0 : 1;
    assertThat(before).as(text).isIn(null, tokens.get());
    assertThat(other).as(text).isIn(null, shape.get());
  }

  /** With a piece put in, put over what is there, or taken out, once or twice. */
  private static String nearly(String text, Random random) {
    StringBuilder changed = new StringBuilder(text);
    for (int i = random.nextInt(2); i >= 0; i--) {
      int at = random.nextInt(changed.length());
      String piece = PIECES.get(random.nextInt(PIECES.size()));
      switch (random.nextInt(4)) {
        case 0 -> changed.deleteCharAt(at);
        case 1 -> changed.replace(at, at + 1, piece);
        case 2 -> changed.setLength(at);
        default -> changed.insert(at, piece);
      }
      if (changed.isEmpty()) {
        changed.append(piece);
      }
    }
    return changed.toString();
  }

  /** With another digit in the place of one, or a letter in the place of one. */
  private static String digitChanged(String text, Random random) {
    StringBuilder changed = new StringBuilder(text);
    for (int tries = 0; tries < 40; tries++) {
      int at = random.nextInt(text.length());
      if (Character.isDigit(text.charAt(at))) {
        changed.setCharAt(at, (char) ('0' + random.nextInt(10)));
        return changed.toString();
      }
    }
    return text;
  }

  static List<String> notOurs() {
    String deep = "[".repeat(40) + "1" + "]".repeat(40);
    return List.of(
        "",
        "{",
        "{}",
        "{\"a\":{}}",
        "{\"a\":[]}",
        "[1]",
        "\"a\"",
        "{\"a\":1,}",
        "{\"a\":[1,]}",
        "{\"a\":[1}}",
        "{\"a\":1]",
        "{,\"a\":1}",
        "{\"a\":1,\"a\":1}",
        "{\"a\":1,\"b\":{\"a\":1},\"a\":2}",
        "{\"b\":[{\"a\":1,\"a\":1}]}",
        "{\"a\" :1}",
        "{\"a\": 1}",
        "{\"a\":1}\n",
        " {\"a\":1}",
        "\ufeff{\"a\":1}",
        "{\"a\":1}{\"a\":1}",
        "{\"a\":1}\u0000",
        "{\"\":1}",
        "{\"\\u0061\":1}",
        "{\"a b\":1}",
        "{a:1}",
        "{\"a\":\"\t\"}",
        "{\"a\":\"\u0001\"}",
        "{\"a\":\"\\u0041\"}",
        "{\"a\":\"\\u001f\"}",
        "{\"a\":\"\\u000A\"}",
        "{\"a\":\"\\u000D\"}",
        "{\"a\":\"\\/\"}",
        "{\"a\":\"\\\"}",
        "{\"a\":\"\ud834\"}",
        "{\"a\":\"\udd1e\ud834\"}",
        "{\"a\":01}",
        "{\"a\":-}",
        "{\"a\":1.}",
        "{\"a\":.5}",
        "{\"a\":+1}",
        "{\"a\":1E}",
        "{\"a\":1E+-1}",
        "{\"a\":NaN}",
        "{\"a\":tru}",
        "{\"a\":True}",
        "{\"a\":" + deep + "}");
  }

  @ParameterizedTest
  @MethodSource("notOurs")
  void what_our_writer_does_not_write_has_no_shape(String text) {
    assertThat(ShapeScanner.shapeText(text)).isEmpty();
    assertThat(TokenShape.of(text)).isEmpty();
  }

  @Test
  void a_text_has_no_shape_wherever_it_is_cut_off() {
    for (String text : SMALL) {
      for (int end = 0; end < text.length(); end++) {
        assertThat(ShapeScanner.shapeText(text.substring(0, end))).isEmpty();
      }
    }
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 31, 32, 33, 100_000})
  void depth_has_a_bound(int depth) {
    String text = "{\"a\":".repeat(depth) + "1" + "}".repeat(depth);
    assertThat(ShapeScanner.shapeText(text).isPresent()).isEqualTo(depth <= 32);
    String arrays = "{\"a\":" + "[".repeat(depth) + "1" + "]".repeat(depth) + "}";
    assertThat(ShapeScanner.shapeText(arrays).isPresent()).isEqualTo(depth < 32);
  }
}
