package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.net.SocketTimeoutException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The corpus of hostile bodies and requests that are no HTTP, sent to the packaged service with its
 * database: none is answered by 5xx, none leaves a fault in the log, and the service goes on.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class HostileInputIT {
  private static final Path CORPUS = Path.of("src/test/resources/indwell/fuzz");
  @TempDir static Path data;
  private static RunningService service;

  @BeforeAll
  static void start() throws Exception {
    service = RunningService.start(Map.of("INDWELL_DATA_DIR", data.toString()));
  }

  @AfterAll
  static void the_service_goes_on_and_its_log_has_no_fault() throws Exception {
    assertThat(service.get("/fhir/metadata").statusCode()).isEqualTo(200);
    service.close();
    assertThat(service.log()).doesNotContain("Fault ").doesNotContain("Exception");
  }

  /** What came back until the connection ended or nothing more came. */
  private static String answer(byte[] request) throws IOException {
    try (Socket socket = new Socket(InetAddress.getByName("127.0.0.1"), service.port())) {
      socket.setSoTimeout(5_000);
      ByteArrayOutputStream answer = new ByteArrayOutputStream();
      try {
        socket.getOutputStream().write(request);
        socket.getInputStream().transferTo(answer);
      } catch (SocketTimeoutException silent) {
        answer.write(0);
      } catch (IOException cut) {
        answer.write("cut off".getBytes(StandardCharsets.UTF_8));
      }
      return answer.toString(StandardCharsets.ISO_8859_1);
    }
  }

  private static byte[] post(String path, String type, byte[] body) {
    ByteArrayOutputStream request = new ByteArrayOutputStream();
    request.writeBytes(
        ("POST "
                + path
                + " HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\nContent-Type: "
                + type
                + "\r\nContent-Length: "
                + body.length
                + "\r\n\r\n")
            .getBytes(StandardCharsets.US_ASCII));
    request.writeBytes(body);
    return request.toByteArray();
  }

  private static List<Path> corpus(String way) throws IOException {
    try (Stream<Path> files = Files.list(CORPUS.resolve(way))) {
      return files.sorted().toList();
    }
  }

  private static void assertAnswered(String what, String answer) {
    assertThat(answer).as(what).matches("(?s)HTTP/1\\.1 [234]\\d\\d .*");
    assertThat(answer).as(what).doesNotContain("\tat ").doesNotContain("Exception:");
  }

  @Test
  void every_body_of_the_corpus_is_answered_by_the_service_itself() throws Exception {
    for (Path file : corpus("events")) {
      byte[] body = Files.readAllBytes(file);
      assertAnswered(file.toString(), answer(post("/events", "application/json", body)));
      assertAnswered(file.toString(), answer(post("/events", "application/x-ndjson", body)));
    }
    for (Path file : corpus("bundles")) {
      byte[] body = Files.readAllBytes(file);
      assertAnswered(file.toString(), answer(post("/fhir", "application/fhir+json", body)));
    }
    for (Path file : corpus("fhir")) {
      byte[] body = Files.readAllBytes(file);
      String type = "application/fhir+json";
      assertAnswered(file.toString(), answer(post("/fhir/Patient/$validate", type, body)));
      assertAnswered(file.toString(), answer(post("/fhir/$device-days", type, body)));
    }
    for (Path file : corpus("surveillance")) {
      byte[] body = Files.readAllBytes(file);
      assertAnswered(file.toString(), answer(post("/surveillance", "text/csv", body)));
      assertAnswered(
          file.toString(), answer(post("/surveillance/candidates", "application/json", body)));
    }
    for (Path file : corpus("queries")) {
      String query = new String(Files.readAllBytes(file), StandardCharsets.UTF_8);
      byte[] form = query.substring(query.indexOf('?') + 1).getBytes(StandardCharsets.UTF_8);
      assertAnswered(
          file.toString(),
          answer(post("/fhir/Procedure/_search", "application/x-www-form-urlencoded", form)));
    }
  }

  @Test
  void lengths_that_contradict_each_other_are_refused() throws Exception {
    List<String> lengths =
        List.of(
            "Content-Length: 5\r\nContent-Length: 6",
            "Content-Length: 5, 6",
            "Content-Length: -1",
            "Content-Length: +2",
            "Content-Length: 0x2",
            "Content-Length: 99999999999999999999999",
            "Content-Length: 2\r\nTransfer-Encoding: chunked",
            "Transfer-Encoding: chunked, identity",
            "Transfer-Encoding: x");
    for (String path : List.of("/events", "/fhir", "/surveillance/candidates", "/record")) {
      for (String length : lengths) {
        String answer =
            answer(
                ("POST "
                        + path
                        + " HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n"
                        + "Content-Type: application/json\r\n"
                        + length
                        + "\r\n\r\n{}")
                    .getBytes(StandardCharsets.US_ASCII));
        assertThat(answer).as(path + " " + length).doesNotContainPattern("^HTTP/1.1 [25]");
      }
    }
  }

  @Test
  void what_is_no_http_is_turned_away() throws Exception {
    List<String> requests = new ArrayList<>();
    requests.add("\0\0\0\0\r\n\r\n");
    requests.add("GET\r\n\r\n");
    requests.add("GET / HTTP/9.9\r\nHost: localhost\r\n\r\n");
    requests.add("GET /" + "a".repeat(20_000) + " HTTP/1.1\r\nHost: localhost\r\n\r\n");
    requests.add("GET / HTTP/1.1\r\nHost: localhost\r\nX: " + "a".repeat(40_000) + "\r\n\r\n");
    requests.add("GET / HTTP/1.1\r\n" + "X: a\r\n".repeat(10_000) + "\r\n");
    requests.add("GET / HTTP/1.1\r\nHost: localhost\r\nX: a\0b\r\n\r\n");
    requests.add("GET / HTTP/1.1\r\nHost: a\r\nHost: b\r\n\r\n");
    requests.add("GET / HTTP/1.1\r\nHost : localhost\r\n\r\n");
    requests.add("\u0016\u0003\u0001\u0002\0\u0001\0\u0001\u00fc\u0003\u0003");
    for (String request : requests) {
      String answer = answer((request).getBytes(StandardCharsets.ISO_8859_1));
      assertThat(answer)
          .as(request.substring(0, Math.min(60, request.length())))
          .doesNotContainPattern("^HTTP/1.1 [25]");
    }
  }

  /** As long as a next link of 200 identifiers gets, several times over. */
  @Test
  void an_address_of_30_KiB_is_read_and_one_of_40_has_the_error_of_its_place() throws Exception {
    String read = "identifier=" + "urn:x%7C".repeat(30_000 / 8);
    String end = " HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n";

    assertThat(answer(("GET /fhir/Patient?" + read + end).getBytes(StandardCharsets.US_ASCII)))
        .startsWith("HTTP/1.1 200");
    assertThat(
            answer(("GET /fhir/Patient?" + read + read + end).getBytes(StandardCharsets.US_ASCII)))
        .startsWith("HTTP/1.1 414")
        .contains("OperationOutcome", "IND-0453", "expected at most 32768 bytes");
    assertThat(answer(("GET /fhir/Patient/%zz" + end).getBytes(StandardCharsets.US_ASCII)))
        .startsWith("HTTP/1.1 400")
        .contains("OperationOutcome", "IND-0455");
    assertThat(answer(("GET /fhir/Patient?name=%" + end).getBytes(StandardCharsets.US_ASCII)))
        .startsWith("HTTP/1.1 400")
        .contains("OperationOutcome", "IND-0455");
  }

  @Test
  void a_bar_in_a_query_is_read_as_browsers_send_it() throws Exception {
    assertThat(
            answer(
                ("GET /fhir/Patient?identifier=urn:x|y HTTP/1.1\r\nHost: localhost\r\n"
                        + "Connection: close\r\n\r\n")
                    .getBytes(StandardCharsets.US_ASCII)))
        .startsWith("HTTP/1.1 200")
        .contains("identifier=urn%3Ax%7Cy");
  }

  @Test
  void an_address_cannot_be_spelt_so_that_it_leads_elsewhere() throws Exception {
    for (String path :
        List.of(
            "/fhir/../q/health",
            "/fhir/..;/metadata",
            "/fhir//metadata",
            "/fhir/%2e%2e/metadata",
            "/fhir/Patient/%00",
            "/fhir/Patient?identifier=%00",
            "/wards/%00",
            "/wards/..%2f..%2fetc%2fpasswd",
            "/patients/%ff",
            "/events/../fhir/%zz",
            "/fhir/%",
            "/surveillance/%00/2026-02",
            "/publishing/parked/..%2f..%2fx/$skip")) {
      String answer =
          answer(
              ("GET " + path + " HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n")
                  .getBytes(StandardCharsets.US_ASCII));
      assertThat(answer).as(path).doesNotContainPattern("^HTTP/1.1 5").doesNotContain("root:");
    }
  }
}
