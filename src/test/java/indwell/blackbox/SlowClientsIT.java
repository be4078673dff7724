package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.web.RawHttp;
import java.io.EOFException;
import java.io.IOException;
import java.net.SocketException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Those who hold connections open and say little, at the packaged service. */
@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class SlowClientsIT {
  private static final int CONNECTIONS = 20;

  @TempDir static Path data;

  private static RunningService service;

  @BeforeAll
  static void start() throws Exception {
    service =
        RunningService.start(
            Map.of(
                "INDWELL_DATA_DIR",
                data.toString(),
                "INDWELL_REQUESTS_HEAD_WITHIN",
                "300ms",
                "INDWELL_REQUESTS_ANSWERED_WITHIN",
                "2s",
                "QUARKUS_HTTP_LIMITS_MAX_CONNECTIONS",
                Integer.toString(CONNECTIONS)));
  }

  @AfterAll
  static void stop() throws Exception {
    service.close();
  }

  private static RawHttp connect() throws IOException {
    return new RawHttp(service.port());
  }

  private static void drip(RawHttp connection, String text) throws Exception {
    for (char one : text.toCharArray()) {
      TimeUnit.MILLISECONDS.sleep(20);
      connection.send(Character.toString(one));
    }
  }

  private static boolean isCut(RawHttp connection) throws IOException {
    try {
      return connection.ended();
    } catch (SocketException reset) {
      return true;
    }
  }

  @Test
  void a_head_that_drips_in_is_not_waited_for() throws Exception {
    try (RawHttp slow = connect()) {
      drip(slow, "POST /events");
      try {
        drip(slow, " HTTP/1.1\r\nHost: localhost\r\nX-Slow: yes yes");
      } catch (SocketException cut) {
        // As it should be.
      }
      assertThat(isCut(slow)).isTrue();
    }
  }

  @Test
  void a_body_that_drips_in_is_given_up_and_nothing_is_written() throws Exception {
    String event = Events.insertionOfPatient("slow");
    try (RawHttp slow = connect()) {
      slow.send(
          "POST /events HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\n"
              + "Content-Length: "
              + event.length()
              + "\r\n\r\n"
              + event.substring(0, event.length() - 10));
      RawHttp.Answer answer = slow.answer();
      assertThat(answer.status()).isEqualTo(408);
      assertThat(answer.body()).contains("\"outcome\":\"failed\"", "IND-0450");
    }
    assertThat(service.get(Events.whereFound("slow")).body()).contains("\"total\":0");
    assertThat(service.postEvent(event).statusCode()).isEqualTo(201);
  }

  @Test
  void a_stream_of_events_may_be_quiet_for_longer() throws Exception {
    try (RawHttp stream = connect()) {
      stream.send(
          "POST /events HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/x-ndjson\r\n"
              + "Transfer-Encoding: chunked\r\n\r\n");
      stream.chunk(Events.insertionOfPatient("stream-1") + "\n");
      assertThat(stream.head().status()).isEqualTo(200);
      assertThat(stream.nextChunk()).contains("\"outcome\":\"recorded\"");
      try (RawHttp younger = connect()) {
        younger.send(
            "POST /events HTTP/1.1\r\nHost: localhost\r\n"
                + "Content-Type: application/json\r\nContent-Length: 9\r\n\r\n");
        assertThat(younger.answer().status()).isEqualTo(408);
      }
      stream.chunk(Events.insertionOfPatient("stream-2") + "\n");
      assertThat(stream.nextChunk()).contains("\"outcome\":\"recorded\"");
      stream.lastChunk();
      assertThat(stream.nextChunk()).isEmpty();
    }
  }

  @Test
  void a_connection_beyond_the_limit_is_not_answered_until_another_ends() throws Exception {
    List<RawHttp> crowd = new ArrayList<>();
    try {
      RawHttp last = connect();
      while (isAnswered(last)) {
        crowd.add(last);
        assertThat(crowd).hasSizeLessThanOrEqualTo(CONNECTIONS);
        last = connect();
      }
      last.close();
      crowd.remove(0).close();
      Awaitility.await()
          .until(
              () -> {
                RawHttp again = connect();
                crowd.add(again);
                return isAnswered(again);
              });
    } finally {
      for (RawHttp one : crowd) {
        one.hangUp();
      }
      // Until the service has noticed, whoever comes next would be one too many.
      Awaitility.await().until(SlowClientsIT::hasRoomForTwo);
    }
  }

  private static boolean hasRoomForTwo() throws IOException {
    try (RawHttp one = connect();
        RawHttp other = connect()) {
      return isAnswered(one) && isAnswered(other);
    }
  }

  private static boolean isAnswered(RawHttp connection) throws IOException {
    try {
      connection.send("GET /q/health/live HTTP/1.1\r\nHost: localhost\r\n\r\n");
      return connection.answer().status() == 200;
    } catch (EOFException | SocketException cut) {
      return false;
    }
  }

  /** A rapid reset of streams needs HTTP/2, which is spoken neither from the start nor later. */
  @Test
  void there_is_no_http_2() throws Exception {
    try (RawHttp prior = connect()) {
      prior.send("PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n" + "\0\0\0\4\0\0\0\0\0");
      String first;
      try {
        first = prior.line();
      } catch (EOFException | SocketException cut) {
        first = "cut";
      }
      assertThat(first).matches("HTTP/[12].[01] [45].*|cut");
    }
    try (RawHttp upgrade = connect()) {
      upgrade.send(
          "GET /q/health/live HTTP/1.1\r\nHost: localhost\r\nConnection: Upgrade, HTTP2-Settings\r\n"
              + "Upgrade: h2c\r\nHTTP2-Settings: AAMAAABkAARAAAAAAAIAAAAA\r\n\r\n");
      assertThat(upgrade.answer().status()).isEqualTo(200);
    }
  }
}
