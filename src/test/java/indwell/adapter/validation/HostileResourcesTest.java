package indwell.adapter.validation;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import com.sun.net.httpserver.HttpServer;
import indwell.port.ProfileValidator.Finding;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Resources that pass the gate and are made to harm whoever reads them. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class HostileResourcesTest {

  private static List<Finding> errors(String json) {
    return Cases.VALIDATOR.validate(json.getBytes(UTF_8), List.of()).stream()
        .filter(Finding::isError)
        .toList();
  }

  private static String patient(String more) {
    return "{\"resourceType\":\"Patient\"," + more + "}";
  }

  private static String narrative(String inside) {
    return patient(
        "\"text\":{\"status\":\"generated\",\"div\":\"<div xmlns='http://www.w3.org/1999/xhtml'>"
            + inside
            + "</div>\"}");
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "<script>alert(1)</script>",
        "<p onclick='alert(1)'>a</p>",
        "<iframe src='http://127.0.0.1:1/'></iframe>",
        "<object data='x'></object>",
        "<form action='x'></form>",
        "<p>a",
        "&undeclared;"
      })
  void a_narrative_that_does_something_is_an_error(String inside) {
    assertThat(errors(narrative(inside))).isNotEmpty();
    assertThat(errors(narrative("<p>a</p>"))).isEmpty();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "<!DOCTYPE div [<!ENTITY a 'b'>]><div xmlns='http://www.w3.org/1999/xhtml'>&a;</div>",
        "<!DOCTYPE div [<!ENTITY a SYSTEM 'file:///etc/passwd'>]><div>&a;</div>"
      })
  void a_narrative_declares_no_entities(String div) {
    List<Finding> errors =
        errors(patient("\"text\":{\"status\":\"generated\",\"div\":\"" + div + "\"}"));
    assertThat(errors).isNotEmpty();
    assertThat(errors.toString()).doesNotContain("root:");
  }

  @Test
  void nothing_that_a_resource_names_is_fetched() throws Exception {
    AtomicInteger asked = new AtomicInteger();
    HttpServer elsewhere =
        HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    elsewhere.createContext("/", exchange -> asked.incrementAndGet());
    elsewhere.start();
    try {
      String url = "http://127.0.0.1:" + elsewhere.getAddress().getPort() + "/x";
      String div =
          "<!DOCTYPE div SYSTEM '" + url + "'><div xmlns='http://www.w3.org/1999/xhtml'>a</div>";
      errors(patient("\"text\":{\"status\":\"generated\",\"div\":\"" + div + "\"}"));
      errors(patient("\"managingOrganization\":{\"reference\":\"" + url + "\"}"));
      errors(patient("\"extension\":[{\"url\":\"" + url + "\",\"valueString\":\"a\"}]"));
      for (String profile : List.of(url, "file:///etc/passwd", "../../x", "a|b|c", "|")) {
        assertThat(errors(patient("\"meta\":{\"profile\":[\"" + profile + "\"]}"))).isNotEmpty();
      }
    } finally {
      elsewhere.stop(0);
    }
    assertThat(asked).hasValue(0);
  }

  /**
   * Seen here: the library matched an identifier of thousands of steps by recursion, and so did we.
   */
  @Test
  void what_goes_too_deep_for_the_library_is_invalid_and_no_fault_of_ours() {
    for (String system :
        List.of("urn:oid:1" + ".1".repeat(20_000), "urn:oid:" + "1.".repeat(20_000))) {
      assertThat(
              errors(patient("\"identifier\":[{\"system\":\"" + system + "\",\"value\":\"a\"}]")))
          .hasSizeLessThan(5);
    }
    assertThat(errors(narrative("<b>".repeat(20_000)))).isNotEmpty();
    assertThat(errors(patient("\"gender\":\"male\""))).isEmpty();
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "\"contained\":[{\"resourceType\":\"Patient\",\"id\":\"a\",\"link\":[{\"other\":{\"reference\":\"#a\"},\"type\":\"refer\"}]}]",
        "\"contained\":[{\"resourceType\":\"Organization\",\"id\":\"a\",\"partOf\":{\"reference\":\"#b\"}},{\"resourceType\":\"Organization\",\"id\":\"b\",\"partOf\":{\"reference\":\"#a\"}}],\"managingOrganization\":{\"reference\":\"#a\"}"
      })
  void references_in_a_circle_come_to_an_end(String more) {
    assertThat(errors(patient(more))).hasSizeLessThan(10);
  }

  @Test
  void a_contained_resource_that_contains_one_is_an_error() {
    assertThat(
            errors(
                patient(
                    "\"contained\":[{\"resourceType\":\"Patient\",\"id\":\"a\",\"contained\":"
                        + "[{\"resourceType\":\"Patient\",\"id\":\"b\"}]}]")))
        .isNotEmpty();
  }

  /** A group that is repeated with spaces on both sides, as R4 writes base64Binary. */
  @ParameterizedTest
  @CsvSource({"base64", "words"})
  void a_text_made_for_a_regular_expression_is_looked_at_once(String kind) {
    String more =
        kind.equals("base64")
            ? "\"photo\":[{\"data\":\"" + ("AAAA" + " ".repeat(50)).repeat(2_000) + "!\"}]"
            : "\"gender\":\"" + "a ".repeat(50_000) + "!  \"";
    assertThat(errors(patient(more))).isNotEmpty();
  }

  @ParameterizedTest
  @ValueSource(strings = {"\"70\"", "\" 70\"", "true", "{}", "[70]"})
  void a_number_that_is_none_is_an_error(String value) {
    assertThat(
            errors(
                "{\"resourceType\":\"Observation\",\"status\":\"final\",\"code\":{\"text\":\"x\"},"
                    + "\"valueQuantity\":{\"value\":"
                    + value
                    + "}}"))
        .isNotEmpty();
  }
}
