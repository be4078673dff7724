package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.web.RawHttp;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/** Hostile bodies and addresses on every path below {@code /fhir} that takes them. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class HostileFhirTest {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static FhirServer server;

  /** A way in: method, path, and the type of resource that it takes. */
  private record Way(String method, String path, String type) {
    String body(String more) {
      return "{\"resourceType\":\"" + type + "\",\"type\":\"transaction\"" + more + "}";
    }

    @Override
    public String toString() {
      return method + " /fhir" + path;
    }
  }

  private static final List<Way> WAYS =
      List.of(
          new Way("POST", "", "Bundle"),
          new Way("POST", "/Patient/$validate", "Patient"),
          new Way("POST", "/$device-days", "Parameters"),
          new Way("POST", "/$device-days", "Bundle"),
          new Way("POST", "/Location/A-1/$device-days", "Parameters"),
          new Way("POST", "/$unit-report", "Parameters"),
          new Way("POST", "/$export", "Parameters"),
          new Way("PUT", "/Location/A-1", "Location"),
          new Way("POST", "/Procedure", "Procedure"),
          new Way("PUT", "/Procedure/x", "Procedure"),
          new Way("PUT", "/Procedure?identifier=urn:x%7Cy", "Procedure"));

  @BeforeAll
  static void start() throws Exception {
    server = new FhirServer();
    server.recordStay();
  }

  @AfterAll
  static void stop() throws Exception {
    server.close();
  }

  private static String contained(int deep) {
    String body = "{}";
    for (int i = 0; i < deep; i++) {
      body = "{\"contained\":[" + body + "]}";
    }
    return body;
  }

  /** What makes a body hostile, and the code that it is refused with. */
  private static Stream<Arguments> traps() {
    return Stream.of(
        Arguments.of("a name twice", ",\"id\":\"a\",\"id\":\"b\"", "IND-0002"),
        Arguments.of("a name twice, escaped", ",\"id\":\"a\",\"i\\u0064\":\"b\"", "IND-0002"),
        Arguments.of("a name twice, deep", ",\"x\":[{\"y\":{\"a\":1,\"a\":1}}]", "IND-0002"),
        Arguments.of("the type twice", ",\"resourceType\":\"Observation\"", "IND-0002"),
        Arguments.of("a large exponent", ",\"x\":1e1000000", "IND-0008"),
        Arguments.of("a large exponent, negative", ",\"x\":-1E-99999999999999999999", "IND-0008"),
        Arguments.of("zero with an exponent", ",\"x\":0e41", "IND-0008"),
        Arguments.of("41 digits", ",\"x\":" + "1".repeat(41), "IND-0008"),
        Arguments.of("a megabyte of digits", ",\"x\":" + "1".repeat(1 << 20), "IND-0008"),
        Arguments.of("no number", ",\"x\":NaN", "IND-0001"),
        Arguments.of("single quotes", ",'x':1", "IND-0001"),
        Arguments.of("a plus sign", ",\"x\":+1", "IND-0001"),
        Arguments.of("something behind it", "} {\"a\":1", "IND-0001"),
        Arguments.of("101 deep", ",\"x\":" + "[".repeat(100) + "]".repeat(100), "IND-0007"),
        Arguments.of("100,000 deep", ",\"x\":" + "[".repeat(100_000), "IND-0007"),
        Arguments.of("a text of a megabyte and one", text((1 << 20) + 1), "IND-0004"),
        Arguments.of("a name of 60,000", ",\"" + "n".repeat(60_000) + "\":1", "IND-0004"),
        Arguments.of("a zero character", ",\"x\":\"a\\u0000\"", "IND-0013"),
        Arguments.of("a zero character in a name", ",\"x\\u0000\":1", "IND-0013"),
        Arguments.of("half a surrogate pair", ",\"x\":\"\\ud800\"", "IND-0013"),
        Arguments.of("a narrative without end", narrative(100_000), "IND-0007"),
        Arguments.of("a narrative 51 deep", narrative(51), "IND-0007"),
        Arguments.of("contained 5 deep", ",\"x\":" + contained(5), "IND-0007"));
  }

  private static String text(int length) {
    return ",\"x\":\"" + "x".repeat(length) + "\"";
  }

  private static String narrative(int deep) {
    return ",\"text\":{\"div\":\"" + "<b>".repeat(deep) + "\"}";
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("traps")
  void a_trap_is_refused_by_its_code_on_every_way_in(String trap, String more, String code)
      throws Exception {
    for (Way way : WAYS) {
      assertRefused(way, way.body(more), code);
    }
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "null",
        "[]",
        "\"Patient\"",
        "1",
        "{}",
        "{\"resourceType\":1}",
        "{\"resourceType\":null}"
      })
  void what_is_no_resource_is_refused_on_every_way_in(String body) throws Exception {
    for (Way way : WAYS) {
      assertRefused(way, body, "IND-0106");
    }
  }

  private static void assertRefused(Way way, String body, String code) throws Exception {
    HttpResponse<String> answer =
        server.ask(way.method(), way.path(), body, "Content-Type", "application/fhir+json");
    assertThat(answer.statusCode()).as("%s: %s", way, answer.body()).isEqualTo(400);
    JsonNode issue = JSON.readTree(answer.body()).at("/issue/0");
    assertThat(issue.at("/details/coding/0/code").asText())
        .as("%s: %s", way, answer.body())
        .isEqualTo(code);
    assertThat(issue.path("diagnostics").asText()).contains("; expected ");
    // A refusal does not become large because the body was.
    assertThat(answer.body()).hasSizeLessThan(20_000);
  }

  @Test
  void bytes_that_are_no_UTF_8_are_refused_on_every_way_in() throws Exception {
    List<byte[]> broken =
        List.of(
            "\uFEFF{}".getBytes(StandardCharsets.UTF_8),
            "{\"resourceType\":\"Patient\"}".getBytes(StandardCharsets.UTF_16),
            "{\"resourceType\":\"Patient\"}".getBytes(StandardCharsets.UTF_16LE),
            new byte[] {'"', (byte) 0xC0, (byte) 0xAF, '"'},
            new byte[] {'"', (byte) 0xED, (byte) 0xA0, (byte) 0x80, '"'},
            new byte[] {'"', (byte) 0xFF, '"'});
    for (Way way : WAYS) {
      for (byte[] body : broken) {
        try (RawHttp http = new RawHttp(server.port())) {
          http.send(
              way.method()
                  + " /fhir"
                  + way.path()
                  + " HTTP/1.1\r\nHost: a\r\nContent-Type: application/fhir+json\r\n"
                  + "Content-Length: "
                  + body.length
                  + "\r\n\r\n");
          RawHttp.Answer answer = http.send(body).answer();
          assertThat(answer.status()).as("%s: %s", way, answer.body()).isEqualTo(400);
          assertThat(answer.body()).contains("IND-0001");
        }
      }
    }
  }

  @ParameterizedTest
  @CsvSource({
    "application/fhir+xml, ''",
    "application/xml, ''",
    "text/xml, ''",
    "application/zip, ''",
    "application/gzip, ''",
    "application/x-tar, ''",
    "multipart/form-data, ''",
    "application/fhir+json, gzip",
    "application/fhir+json, 'gzip, gzip'",
    "application/fhir+json, deflate",
    "application/fhir+json, br",
    "application/fhir+json, zstd"
  })
  void neither_xml_nor_archives_nor_compressed_bodies_are_read(String type, String encoding)
      throws Exception {
    for (Way way : WAYS) {
      try (RawHttp http = new RawHttp(server.port())) {
        RawHttp.Answer answer =
            http.send(
                    way.method()
                        + " /fhir"
                        + way.path()
                        + " HTTP/1.1\r\nHost: a\r\nContent-Length: 2\r\nContent-Type: "
                        + type
                        + (encoding.isEmpty() ? "" : "\r\nContent-Encoding: " + encoding)
                        + "\r\n\r\n{}")
                .answer();
        assertThat(answer.status()).as(way.toString()).isEqualTo(415);
        assertThat(answer.body()).contains("IND-0006");
      }
    }
  }

  @Test
  void an_endless_body_in_chunks_is_ended_on_every_way_in() throws Exception {
    for (Way way : List.of(WAYS.get(0), WAYS.get(7))) {
      try (RawHttp http = new RawHttp(server.port())) {
        http.send(
            way.method()
                + " /fhir"
                + way.path()
                + " HTTP/1.1\r\nHost: a\r\nContent-Type: application/fhir+json\r\n"
                + "Transfer-Encoding: chunked\r\n\r\n");
        String piece = " ".repeat(1 << 20);
        for (int i = 0; i < 17; i++) {
          http.chunk(piece);
        }
        RawHttp.Answer answer = http.answer();
        assertThat(answer.status()).isEqualTo(413);
        assertThat(answer.body()).contains("IND-0004");
      }
    }
  }

  @Test
  void more_entries_than_a_bundle_may_have_are_refused_before_one_is_looked_at() throws Exception {
    String entry = "{\"request\":{\"method\":\"GET\",\"url\":\"Patient\"}}";
    String body =
        "{\"resourceType\":\"Bundle\",\"type\":\"batch\",\"entry\":["
            + (entry + ",").repeat(9_999)
            + entry
            + "]}";
    HttpResponse<String> answer = server.post("", "application/fhir+json", body);
    assertThat(answer.statusCode()).isEqualTo(413);
    assertThat(answer.body()).contains("IND-0251", "10000 entries");
  }

  @Test
  void a_bundle_within_a_bundle_is_no_entry() throws Exception {
    for (String type : List.of("batch", "transaction")) {
      String inner = "{\"resourceType\":\"Bundle\",\"type\":\"" + type + "\",\"entry\":[]}";
      String body =
          ("{\"resourceType\":\"Bundle\",\"type\":\"%s\",\"entry\":[{\"resource\":%s,"
                  + "\"request\":{\"method\":\"POST\",\"url\":\"Bundle\"}}]}")
              .formatted(type, inner);
      assertThat(server.post("", "application/fhir+json", body).body()).contains("IND-0252");
    }
  }

  /** A value that a regular expression would choke on is compared and not matched. */
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "/Location?name=(a%2B)%2B$ | 200 | total",
        "/Location?name=%5E(([a-z])%2B.)%2B[A-Z]([a-z])%2B$aaaaaaaaaaaaaaaaaaaaaaaaaaaaaa! | 200 | total",
        "/Location?name=%25_%25 | 200 | total",
        "/Patient?_count=999999999 | 200 | total",
        "/Patient?_count=9999999999999999999 | 400 | IND-0104",
        "/Patient?_count=-1 | 400 | IND-0104",
        "/Patient?_count=1e9 | 400 | IND-0104",
        "/Patient?identifier=a%00 | 400 | IND-0013",
        "/Patient?identifier=%ED%A0%80 | 400 | IND-0013",
        "/Patient?identifier=%C0%AF | 400 | IND-0013",
        "/Patient?identifier=%F0%9F%98%80 | 200 | total",
        "/Patient?identifier=%C3%28 | 400 | IND-0013",
        "/Patient/a%00 | 400 | IND-0013",
        "/Patient/.. | 404 | IND-0100",
        "/Patient/..%2f..%2fetc%2fpasswd | 404 | IND-0100",
        "/Patient?_id=..%2f..%2fetc%2fpasswd | 200 | total",
        "/Procedure?_include=* | 400 | IND-0104",
        "/Procedure?_include:iterate=Procedure:patient | 400 | IND-0240",
        "/Procedure?patient.patient.patient.identifier=x | 400 | IND-0240",
        "/Procedure?date=ap99999999999999999999 | 400 | IND-0104",
        "/$overdue?ward=a%00 | 400 | IND-0013",
        "/$device-days?start=0001-01-01&end=9999-12-31 | 400 | IND-0104",
      })
  void an_address_is_answered_for_what_it_is(String path, int status, String contains)
      throws Exception {
    HttpResponse<String> answer = server.get(path);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(status);
    assertThat(answer.body()).contains(contains);
  }

  @Test
  void a_page_is_never_larger_than_a_thousand_however_much_is_asked_for() {
    assertThat(ResultParameters.number("999999999")).isEqualTo(1_000);
  }

  @ParameterizedTest
  @CsvSource({
    "Patient, _id=a, &_id=a, 100, parameters",
    "Patient, _id=a, ',a', 1000, values",
    "Patient, identifier=a, ',a', 1000, values",
    "Procedure, patient=a, ',a', 1000, values",
    "Procedure, date=2026, ',2026', 100, values",
    "Location, name=a, ',a', 100, values"
  })
  void a_search_has_bounded_conditions(
      String type, String first, String again, int most, String what) throws Exception {
    HttpResponse<String> taken = search(type, first + again.repeat(most - 1));
    assertThat(taken.statusCode()).as(taken.body()).isEqualTo(200);
    HttpResponse<String> refused = search(type, first + again.repeat(most));
    assertThat(refused.statusCode()).as(refused.body()).isEqualTo(400);
    assertThat(refused.body())
        .contains("IND-0460", (most + 1) + " " + what, "expected at most " + most);
  }

  @Test
  void a_form_of_sixteen_megabytes_is_refused_and_not_looked_up() throws Exception {
    HttpResponse<String> values = search("Patient", "identifier=" + "a,".repeat(8_000_000) + "a");
    assertThat(values.statusCode()).as(values.body()).isEqualTo(400);
    assertThat(values.body()).contains("IND-0460");
  }

  private static HttpResponse<String> search(String type, String form) throws Exception {
    return server.post("/" + type + "/_search", "application/x-www-form-urlencoded", form);
  }
}
