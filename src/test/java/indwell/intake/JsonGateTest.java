package indwell.intake;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.refusal.IssueCode;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * What is JSON and what is none, and what it comes to.
 *
 * <p>Source: RFC 8259, https://www.rfc-editor.org/rfc/rfc8259; the limits are those of the
 * contract.
 */
@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class JsonGateTest {
  private static final GateLimits LIMITS = new GateLimits(4, 100, 10, 3, 40);

  @Test
  void makes_a_plain_tree_in_the_order_of_the_body() {
    GateResult.Tree tree = tree("{\"b\":[1.50,true,null],\"a\":{\"x\":\"y\"}}");
    assertThat(tree.root())
        .isEqualTo(
            Map.of(
                "b", List.of(new BigDecimal("1.5"), true, JsonMarker.NULL), "a", Map.of("x", "y")));
    assertThat(((Map<?, ?>) tree.root()).keySet().toString()).isEqualTo("[b, a]");
    assertThat(tree.findings()).isEmpty();
  }

  @ParameterizedTest
  @CsvSource({"3, 3", "3.0, 3", "3e0, 3", "0.3E1, 3", "-0, 0", "1e2, 100", "0.10, 0.1"})
  void makes_equal_numbers_equal(String text, String plain) {
    BigDecimal number = (BigDecimal) tree(text).root();
    assertThat(number.toString()).isEqualTo(plain);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "   ",
        "{",
        "[",
        "{\"a\":1",
        "{\"a\":1,}",
        "[1,]",
        "[1 2]",
        "{\"a\" 1}",
        "{a:1}",
        "{'a':1}",
        "{\"a\":'b'}",
        "{\"a\":+1}",
        "{\"a\":01}",
        "{\"a\":.5}",
        "{\"a\":5.}",
        "{\"a\":1e}",
        "{\"a\":0x10}",
        "{\"a\":NaN}",
        "{\"a\":Infinity}",
        "{\"a\":-Infinity}",
        "{\"a\":TRUE}",
        "{\"a\":nul}",
        "{\"a\":1}}",
        "{\"a\":1}{\"a\":1}",
        "{\"a\":1} x",
        "1 2",
        "{\"a\":\"b",
        "{\"a\":\"\\x41\"}",
        "{\"a\":\"\\u00g0\"}",
        "{\"a\":\"\\u\u0130000\"}",
        "{\"a\":\"tab\there\"}",
        "{\"a\":\"line\nend\"}",
        "{\"a\":\"zero\u0000byte\"}",
        "// no comment\n{}",
        "{/* none */}",
        "# none\n{}",
        "\u00a0{}",
        "\u001e{}",
        "]",
        "}",
        "{\"a\":1]",
        "[1}",
        "<Patient/>",
      })
  void stops_at_what_is_no_JSON(String body) {
    assertThat(code(stopped(bytes(body)))).isEqualTo(IssueCode.MALFORMED_JSON);
  }

  @Test
  void says_where_the_JSON_breaks() {
    assertThat(stopped(bytes("{\"a\":1,\n \"b\":x}")).sentence())
        .isEqualTo("The text is no JSON at line 2, column 6; expected one JSON value in UTF-8.");
    assertThat(stopped(bytes("{} {}")).sentence())
        .isEqualTo(
            "The text goes on after its value at line 1, column 4; expected one JSON value in"
                + " UTF-8.");
  }

  @Test
  void finds_names_that_stand_twice_at_any_depth_and_however_they_are_spelt() {
    GateResult.Tree tree = tree("{\"a\":{\"b\":[{\"c\":1,\"\\u0063\":2}]},\"é\":1,\"\\u00e9\":1}");
    assertThat(tree.findings())
        .extracting(GateFinding::code, GateFinding::path)
        .containsExactly(
            org.assertj.core.groups.Tuple.tuple(IssueCode.DUPLICATE_NAME, "a.b[0].c"),
            org.assertj.core.groups.Tuple.tuple(IssueCode.DUPLICATE_NAME, "é"));
    assertThat(((Map<?, ?>) tree.root()).get("é")).isEqualTo(JsonMarker.NAMED_TWICE);
  }

  @Test
  void takes_a_name_again_in_another_object() {
    assertThat(tree("{\"a\":{\"a\":1},\"b\":{\"a\":1}}").findings()).isEmpty();
  }

  @Test
  void tells_names_apart_that_differ_in_a_zero_character_only() {
    assertThat(tree("{\"a\":1,\"a\\u0000\":1,\"\\u0000\":1,\"\":1}").findings()).isEmpty();
  }

  @ParameterizedTest
  @CsvSource({
    "1234567890123456789012345678901234567890, false",
    "12345678901234567890123456789012345678901, true",
    "0.123456789012345678901234567890123456789, false",
    "0.1234567890123456789012345678901234567890, true",
    "-1e40, false",
    "1e41, true",
    "1E+40, false",
    "1E+41, true",
    "1e-40, false",
    "1e-41, true",
    "1e0000040, false",
    "1e1000000, true",
    "1e99999999999999999999999, true",
    "-1.5e-99999999999999999999999, true",
  })
  void finds_numbers_beyond_reading(String number, boolean absurd) {
    GateResult.Tree tree = tree("{\"a\":" + number + "}");
    assertThat(tree.findings()).hasSize(absurd ? 1 : 0);
    assertThat(((Map<?, ?>) tree.root()).get("a") == JsonMarker.ABSURD_NUMBER).isEqualTo(absurd);
  }

  @Test
  void finds_what_is_nested_too_deep_once_and_leaves_it_out() {
    assertThat(tree("{\"a\":[[[1]]]}").findings()).isEmpty();
    GateResult.Tree tree = tree("{\"a\":[[[[1],[2]]]],\"b\":2}");
    assertThat(tree.findings())
        .containsExactly(
            new GateFinding(
                IssueCode.NESTED_TOO_DEEP,
                "a[0][0][0]",
                "The text is nested too deep; expected at most 4 levels."));
    assertThat(tree.root())
        .isEqualTo(
            Map.of(
                "a",
                List.of(List.of(List.of(JsonMarker.TOO_DEEP, JsonMarker.TOO_DEEP))),
                "b",
                BigDecimal.valueOf(2)));
  }

  @Test
  void finds_a_name_twice_below_the_deepest_level() {
    assertThat(tree("{\"a\":[[[[{\"x\":1,\"x\":2}]]]]}").findings())
        .extracting(GateFinding::code)
        .containsExactly(IssueCode.NESTED_TOO_DEEP, IssueCode.DUPLICATE_NAME);
  }

  @ParameterizedTest
  @CsvSource({"100, false", "101, true"})
  void stops_at_its_stopping_depth(int depth, boolean stops) {
    byte[] body = bytes("[".repeat(depth) + "]".repeat(depth));
    assertThat(
            JsonGate.read(body, new GateLimits(4, 100, 10, 3, 1000)) instanceof GateResult.Stopped)
        .isEqualTo(stops);
  }

  @ParameterizedTest
  @CsvSource({"10, false", "11, true"})
  void finds_strings_and_names_that_are_too_long(int length, boolean tooLong) {
    String text = "x".repeat(length);
    assertThat(tree("{\"a\":\"" + text + "\"}").findings()).hasSize(tooLong ? 1 : 0);
    assertThat(tree("{\"" + text + "\":1}").findings()).hasSize(tooLong ? 1 : 0);
  }

  @ParameterizedTest
  @CsvSource({"3, false", "4, true"})
  void counts_the_elements_of_an_array(int elements, boolean stops) {
    String body = "[" + "1,".repeat(elements - 1) + "1]";
    GateResult result = JsonGate.read(bytes(body), LIMITS);
    assertThat(result instanceof GateResult.Stopped).isEqualTo(stops);
    if (stops) {
      assertThat(stopped(bytes(body)).sentence())
          .isEqualTo("The array has more than 3 elements; expected at most 3.");
    }
  }

  @Test
  void drops_an_element_that_is_too_large_and_reads_on() {
    String large = "{\"a\":[" + "1,".repeat(20) + "{\"b\":[]}]}";
    GateResult.Tree tree = tree("[{\"x\":1}," + large + ",{\"y\":2}]");
    assertThat(tree.root())
        .isEqualTo(
            List.of(
                Map.of("x", BigDecimal.ONE),
                JsonMarker.TOO_LARGE,
                Map.of("y", BigDecimal.valueOf(2))));
    assertThat(tree.findings()).extracting(GateFinding::code).containsExactly(IssueCode.TOO_LARGE);
  }

  @ParameterizedTest
  @CsvSource({"40, false", "41, true"})
  void measures_an_element_in_bytes(int size, boolean tooLarge) {
    // {"a":"é","b":[...]} padded with white space inside to the size wanted
    String element = "{\"a\":\"é\"" + " ".repeat(size - 10) + "}";
    assertThat(bytes(element)).hasSize(size);
    assertThat(tree("[ " + element + " ]").findings()).hasSize(tooLarge ? 1 : 0);
  }

  @Test
  void keeps_a_bounded_number_of_findings() {
    assertThat(tree("{" + "\"a\":1,".repeat(500) + "\"a\":1}").findings()).hasSize(FindingLog.MOST);
  }

  private static GateResult.Tree tree(String body) {
    return (GateResult.Tree) JsonGate.read(bytes(body), LIMITS);
  }

  private static GateResult.Stopped stopped(byte[] body) {
    return (GateResult.Stopped) JsonGate.read(body, LIMITS);
  }

  private static IssueCode code(GateResult.Stopped stopped) {
    return stopped.code();
  }

  private static byte[] bytes(String text) {
    return text.getBytes(StandardCharsets.UTF_8);
  }
}
