package indwell.web.edge;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.web.RawHttp;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Requests whose head cannot be read are answered in the shape that errors have at their address.
 *
 * <p>Source: https://hl7.org/fhir/R4/http.html#Status-Codes for {@code /fhir}; the limits are those
 * of the server under test, 4,096 bytes of a line and 8,192 of headers
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class UnreadableHeadsTest {
  private static final String REST = " HTTP/1.1\r\nHost: localhost\r\n\r\n";

  private final List<String> asked = Collections.synchronizedList(new ArrayList<>());
  private GuardedServer server;

  @BeforeEach
  void start() throws Exception {
    server =
        new GuardedServer(
            request -> {
              asked.add(request.uri());
              request.response().end("taken");
            });
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
  }

  private RawHttp.Answer answer(String request) throws Exception {
    try (RawHttp connection = new RawHttp(server.port())) {
      return connection.send(request).answer();
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"/fhir/Patient?identifier=", "/fhir/", "/fhir?"})
  void a_line_that_is_too_long_is_an_OperationOutcome_below_fhir(String path) throws Exception {
    RawHttp.Answer answer = answer("GET " + path + "a".repeat(5_000) + REST);

    assertThat(answer.status()).isEqualTo(414);
    assertThat(answer.head().header("Content-Type")).isEqualTo("application/fhir+json");
    assertThat(answer.body())
        .contains(
            "\"resourceType\":\"OperationOutcome\"",
            "IND-0453",
            "The address is longer than is read; expected at most 4096 bytes");
    assertThat(answer.head().header("X-Request-Id")).isNotEmpty();
    assertThat(asked).isEmpty();
  }

  @ParameterizedTest
  @CsvSource({
    "/events/, application/json, refused",
    "/surveillance/, application/json, refused",
    "/wards/, text/plain; charset=utf-8, IND-0453: The address"
  })
  void a_line_that_is_too_long_has_the_shape_of_its_address(String path, String type, String body)
      throws Exception {
    RawHttp.Answer answer = answer("GET " + path + "a".repeat(5_000) + REST);

    assertThat(answer.status()).isEqualTo(414);
    assertThat(answer.head().header("Content-Type")).isEqualTo(type);
    assertThat(answer.body()).contains("IND-0453", body);
  }

  @Test
  void headers_that_are_too_large_are_an_OperationOutcome_below_fhir() throws Exception {
    RawHttp.Answer answer =
        answer("GET /fhir/Patient HTTP/1.1\r\nX: " + "a".repeat(9_000) + "\r\n\r\n");

    assertThat(answer.status()).isEqualTo(431);
    assertThat(answer.body())
        .contains(
            "\"resourceType\":\"OperationOutcome\"",
            "IND-0454",
            "The headers are larger than is read; expected at most 8192 bytes together.");
    assertThat(asked).isEmpty();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {"/fhir/Patient/%zz", "/fhir/Patient?name=%", "/fhir/Patient\\x", "/fhir/[x]"})
  void an_address_that_is_none_is_an_OperationOutcome_below_fhir(String address) throws Exception {
    RawHttp.Answer answer = answer("GET " + address + REST);

    assertThat(answer.status()).isEqualTo(400);
    assertThat(answer.head().header("Content-Type")).isEqualTo("application/fhir+json");
    assertThat(answer.body())
        .contains(
            "\"resourceType\":\"OperationOutcome\"",
            "IND-0455",
            "The address \\\"" + address.replace("\\", "\\\\") + "\\\" cannot be read; expected");
    assertThat(asked).isEmpty();
  }

  @ParameterizedTest
  @CsvSource({"/events?x=%, application/json", "/wards/%zz, text/plain; charset=utf-8"})
  void an_address_that_is_none_has_the_shape_of_its_place(String address, String type)
      throws Exception {
    RawHttp.Answer answer = answer("GET " + address + REST);

    assertThat(answer.status()).isEqualTo(400);
    assertThat(answer.head().header("Content-Type")).isEqualTo(type);
    assertThat(answer.body()).contains("IND-0455");
  }

  /** Source: https://url.spec.whatwg.org/#query-percent-encode-set: browsers leave them. */
  @ParameterizedTest
  @CsvSource({
    "/fhir/Patient?identifier=urn:x|y, /fhir/Patient?identifier=urn:x%7Cy",
    "/fhir/Patient?name=^`{}&x=%7C, /fhir/Patient?name=%5E%60%7B%7D&x=%7C",
    "/fhir/Patient?identifier=urn:x|a\\b, /fhir/Patient?identifier=urn:x%7Ca%5Cb",
    "/fhir/Patient?, /fhir/Patient?"
  })
  void signs_that_browsers_leave_in_a_query_are_read(String sent, String read) throws Exception {
    assertThat(answer("GET " + sent + REST).status()).isEqualTo(200);
    assertThat(asked).containsExactly(read);
  }

  @Test
  void the_same_signs_are_no_part_of_a_path() throws Exception {
    assertThat(answer("GET /fhir/Patient/a|b?x=y" + REST).status()).isEqualTo(400);
  }

  @Test
  void what_is_no_http_is_told_so() throws Exception {
    RawHttp.Answer answer = answer("GET /fhir/Patient HTTP/1.1\r\nHost : localhost\r\n\r\n");

    assertThat(answer.status()).isEqualTo(400);
    assertThat(answer.body()).contains("IND-0455", "OperationOutcome");
  }

  @Test
  void the_second_request_of_a_connection_is_answered_like_the_first() throws Exception {
    try (RawHttp connection = new RawHttp(server.port())) {
      String body = "x".repeat(100);
      RawHttp.Answer taken =
          connection
              .send("POST /events HTTP/1.1\r\nHost: a\r\nContent-Length: 100\r\n\r\n" + body)
              .answer();
      RawHttp.Answer refused = connection.send("GET /fhir/" + "a".repeat(5_000) + REST).answer();

      assertThat(taken.status()).isEqualTo(200);
      assertThat(refused.status()).isEqualTo(414);
      assertThat(refused.body()).contains("OperationOutcome");
      assertThat(connection.rest()).isEmpty();
    }
  }

  @Test
  void a_refused_head_is_over_when_its_connection_is() throws Exception {
    answer("GET /fhir/%zz" + REST);

    Awaitility.await().untilAsserted(() -> assertThat(server.guard.traffic().underWay()).isZero());
    assertThat(server.guard.traffic().answered(Traffic.Part.FHIR, 4)).isEqualTo(1);
  }
}
