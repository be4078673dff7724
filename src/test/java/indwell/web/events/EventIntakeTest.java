package indwell.web.events;

import static indwell.web.events.IntakeServer.weight;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.web.RawHttp;
import indwell.web.RawHttp.Answer;
import java.nio.file.Path;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Objects and arrays (contract, section 2), byte by byte on the wire. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class EventIntakeTest {
  @TempDir Path spool;
  private IntakeServer server;

  @BeforeEach
  void start() throws Exception {
    server = new IntakeServer(IntakeServer::accept, EventLimits.DEFAULT, spool);
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
  }

  private static String post(String contentType, String body) {
    return "POST /events HTTP/1.1\r\nHost: localhost\r\nContent-Type: "
        + contentType
        + "\r\nContent-Length: "
        + body.getBytes(java.nio.charset.StandardCharsets.UTF_8).length
        + "\r\n\r\n"
        + body;
  }

  private Answer answerTo(String contentType, String body) throws Exception {
    try (RawHttp http = new RawHttp(server.port())) {
      return http.send(post(contentType, body)).answer();
    }
  }

  @Test
  void an_object_is_answered_by_an_object() throws Exception {
    Answer answer = answerTo("application/json; charset=utf-8", weight(1));
    assertThat(answer.status()).isEqualTo(201);
    assertThat(answer.head().header("Content-Type")).isEqualTo("application/json");
    assertThat(answer.body())
        .isEqualTo(
            "{\"source\":\"ward\",\"eventId\":\"e1\",\"version\":1,\"outcome\":\"recorded\","
                + "\"resources\":[\"Observation/x\"],\"issues\":[]}");
  }

  @Test
  void an_array_is_answered_by_an_array_with_places_from_1() throws Exception {
    Answer answer = answerTo("application/json", "[" + weight(1) + ",{}," + weight(2) + "]");
    assertThat(answer.status()).isEqualTo(200);
    assertThat(answer.body()).startsWith("[{\"index\":1,\"source\":\"ward\",\"eventId\":\"e1\"");
    assertThat(answer.body()).contains("{\"index\":2,\"version\":1,\"outcome\":\"refused\"");
    assertThat(answer.body()).contains("{\"index\":3,\"source\":\"ward\",\"eventId\":\"e2\"");
  }

  @ParameterizedTest
  @CsvSource({
    "text/plain, 415, IND-0006",
    "application/xml, 415, IND-0006",
    "application/fhir+json, 415, IND-0006",
    "json, 415, IND-0006"
  })
  void another_media_type_is_refused_by_name(String type, int status, String code)
      throws Exception {
    Answer answer = answerTo(type, weight(1));
    assertThat(answer.status()).isEqualTo(status);
    assertThat(answer.body()).contains("\"outcome\":\"refused\"", code, type);
    assertThat(server.recorded).hasValue(0);
  }

  @Test
  void a_body_without_media_type_is_refused() throws Exception {
    try (RawHttp http = new RawHttp(server.port())) {
      Answer answer =
          http.send("POST /events HTTP/1.1\r\nHost: a\r\nContent-Length: 2\r\n\r\n{}").answer();
      assertThat(answer.status()).isEqualTo(415);
    }
  }

  @Test
  void a_compressed_body_is_refused() throws Exception {
    try (RawHttp http = new RawHttp(server.port())) {
      Answer answer =
          http.send(
                  "POST /events HTTP/1.1\r\nHost: a\r\nContent-Type: application/json\r\n"
                      + "Content-Encoding: gzip\r\nContent-Length: 2\r\n\r\n{}")
              .answer();
      assertThat(answer.status()).isEqualTo(415);
      assertThat(answer.body()).contains("Content-Encoding");
    }
  }

  @Test
  void other_methods_are_told_what_is_allowed() throws Exception {
    try (RawHttp http = new RawHttp(server.port())) {
      Answer answer = http.send("GET /events HTTP/1.1\r\nHost: a\r\n\r\n").answer();
      assertThat(answer.status()).isEqualTo(405);
      assertThat(answer.head().header("Allow")).isEqualTo("POST");
      assertThat(answer.body()).contains("IND-0101");
      http.send(post("application/json", weight(1)));
      assertThat(http.answer().status()).isEqualTo(201);
    }
  }

  @Test
  void a_connection_is_used_again_after_a_small_refused_body() throws Exception {
    try (RawHttp http = new RawHttp(server.port())) {
      http.send(post("text/plain", "x".repeat(200_000)));
      assertThat(http.answer().status()).isEqualTo(415);
      http.send(post("application/json", weight(2)));
      assertThat(http.answer().status()).isEqualTo(201);
    }
  }

  @Test
  void an_array_beyond_16_MiB_is_refused_by_its_stated_length_and_the_answer_arrives()
      throws Exception {
    try (RawHttp http = new RawHttp(server.port())) {
      http.send(
          "POST /events HTTP/1.1\r\nHost: a\r\nContent-Type: application/json\r\n"
              + "Content-Length: 16777217\r\n\r\n[");
      Answer answer = http.answer();
      assertThat(answer.status()).isEqualTo(413);
      assertThat(answer.head().header("Connection")).isEqualTo("close");
      assertThat(answer.body()).contains("IND-0004");
      // The client is still sending and must not be cut off before it can read the answer.
      byte[] piece = new byte[1 << 20];
      for (int i = 0; i < 16; i++) {
        http.send(piece);
      }
      assertThat(http.ended()).isTrue();
    }
  }

  @Test
  void an_endless_chunked_body_is_refused_once_it_is_too_large() throws Exception {
    try (RawHttp http = new RawHttp(server.port())) {
      http.send(
          "POST /events HTTP/1.1\r\nHost: a\r\nContent-Type: application/json\r\n"
              + "Transfer-Encoding: chunked\r\n\r\n");
      String piece = " ".repeat(1 << 20);
      for (int i = 0; i < 17; i++) {
        http.chunk(piece);
      }
      assertThat(http.answer().status()).isEqualTo(413);
    }
  }

  @Test
  void an_event_beyond_64_KiB_is_refused_with_413() throws Exception {
    assertThat(answerTo("application/json", " ".repeat(65_536) + weight(1)).status())
        .isEqualTo(413);
  }

  @Test
  void a_client_that_waits_to_be_asked_for_its_body_is_asked() throws Exception {
    try (RawHttp http = new RawHttp(server.port())) {
      String body = weight(1);
      http.send(
          "POST /events HTTP/1.1\r\nHost: a\r\nContent-Type: application/json\r\n"
              + "Expect: 100-continue\r\nContent-Length: "
              + body.length()
              + "\r\n\r\n");
      assertThat(http.head().status()).isEqualTo(100);
      http.send(body);
      assertThat(http.answer().status()).isEqualTo(201);
    }
  }

  @Test
  void a_client_that_waits_is_turned_away_without_being_asked() throws Exception {
    try (RawHttp http = new RawHttp(server.port())) {
      http.send(
          "POST /events HTTP/1.1\r\nHost: a\r\nContent-Type: text/csv\r\n"
              + "Expect: 100-continue\r\nContent-Length: 10\r\n\r\n");
      Answer answer = http.answer();
      assertThat(answer.status()).isEqualTo(415);
      assertThat(answer.head().header("Connection")).isEqualTo("close");
    }
  }

  @Test
  void a_full_house_turns_away_before_anything_is_written(@TempDir Path other) throws Exception {
    EventLimits tight = new EventLimits(1, 1000, 1, 10, 1000, 1000);
    try (IntakeServer full = new IntakeServer(IntakeServer::accept, tight, other);
        RawHttp http = new RawHttp(full.port())) {
      Answer answer = http.send(post("application/json", weight(1))).answer();
      assertThat(answer.status()).isEqualTo(429);
      assertThat(answer.head().header("Retry-After")).isEqualTo("1");
      assertThat(answer.body()).contains("\"outcome\":\"failed\"", "IND-0092");
      assertThat(full.recorded).hasValue(0);
    }
  }

  @Test
  void a_store_that_is_away_turns_an_event_away(@TempDir Path other) throws Exception {
    try (IntakeServer away = new IntakeServer(IntakeServer::storeAway, EventLimits.DEFAULT, other);
        RawHttp http = new RawHttp(away.port())) {
      Answer one = http.send(post("application/json", weight(1))).answer();
      assertThat(one.status()).isEqualTo(503);
      assertThat(one.head().header("Retry-After")).isEqualTo("1");
      String many =
          IntStream.rangeClosed(1, 2 * Recorder.MOST)
              .mapToObj(IntakeServer::weight)
              .collect(Collectors.joining(",", "[", "]"));
      assertThat(http.send(post("application/json", many)).answer().status()).isEqualTo(503);
      // Those behind the first part were not even tried.
      assertThat(away.recorded).hasValue(1 + Recorder.MOST);
    }
  }

  @Test
  void after_a_stop_new_events_are_turned_away() throws Exception {
    try (RawHttp http = new RawHttp(server.port())) {
      server.intake().stop();
      Answer answer = http.send(post("application/json", weight(1))).answer();
      assertThat(answer.status()).isEqualTo(503);
      assertThat(answer.head().header("Retry-After")).isEqualTo("1");
    }
  }
}
