package indwell.web.edge;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.web.BeforeAnswer;
import indwell.web.Exchange;
import indwell.web.HttpAnswer;
import indwell.web.RawHttp;
import io.vertx.core.buffer.Buffer;
import io.vertx.core.http.HttpServerRequest;
import java.io.IOException;
import java.net.SocketException;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * What becomes of requests that take too long. No test measures a time: what has to be over is
 * waited for, and what has to last is looked at once something younger is over.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class RequestClockTest {
  private static final int LARGE = 24 << 20;
  private static final String GET = "GET %s HTTP/1.1\r\nHost: localhost\r\n\r\n";

  private final List<String> done = Collections.synchronizedList(new ArrayList<>());
  private GuardedServer server;

  @BeforeEach
  void start() throws Exception {
    server = new GuardedServer(this::handle);
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
  }

  private void handle(HttpServerRequest request) {
    switch (request.path()) {
      case "/quick" -> request.response().end("quick");
      case "/events", "/fhir/whole" -> {
        new Exchange(server.vertx, request, BeforeAnswer.NOTHING).invite();
        request.bodyHandler(
            body -> {
              done.add(body.toString());
              request.response().end("taken");
            });
      }
      case "/large" -> request.response().end(Buffer.buffer(new byte[LARGE]));
      case "/lines" ->
          request
              .response()
              .putHeader("Content-Type", "application/fhir+ndjson")
              .end(Buffer.buffer(new byte[LARGE]));
      case "/echo" -> {
        request.response().setChunked(true);
        request.handler(chunk -> request.response().write(chunk));
        request.endHandler(end -> request.response().end());
      }
      case "/early" ->
          new Exchange(server.vertx, request, BeforeAnswer.NOTHING)
              .send(HttpAnswer.of(404, "text/plain", Buffer.buffer("no")));
      default -> done.add("never answered: " + request.method());
    }
  }

  private RawHttp connect() throws IOException {
    return new RawHttp(server.port());
  }

  /** Sends a byte now and then until the other side will have no more of it. */
  private static void drip(RawHttp connection, String text) throws Exception {
    try {
      for (int i = 0; i < text.length(); i++) {
        connection.send(text.substring(i, i + 1));
        TimeUnit.MILLISECONDS.sleep(20);
      }
      throw new AssertionError("All was taken: " + text.length() + " bytes");
    } catch (SocketException closed) {
      // As it should be.
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
  void a_head_that_drips_in_ends_the_connection_and_reaches_nobody() throws Exception {
    try (RawHttp slow = connect()) {
      drip(slow, "POST /events HTTP/1.1\r\nHost: localhost\r\n" + "X-Long: y\r\n".repeat(100));
    }

    assertThat(done).isEmpty();
    assertThat(server.guard.traffic().slowHeads()).isEqualTo(1);
  }

  @Test
  void a_connection_on_which_nothing_is_said_is_closed() throws Exception {
    try (RawHttp silent = connect()) {
      assertThat(isCut(silent)).isTrue();
    }
  }

  @Test
  void the_second_head_of_a_connection_has_its_time_as_well() throws Exception {
    try (RawHttp slow = connect()) {
      assertThat(slow.send(GET.formatted("/quick")).answer().body()).isEqualTo("quick");
      drip(slow, "GET /quick HTTP/1.1\r\n" + "X-Long: y\r\n".repeat(100));
    }
  }

  @Test
  void a_connection_may_rest_between_two_requests() throws Exception {
    try (RawHttp resting = connect();
        RawHttp younger = connect()) {
      assertThat(resting.send(GET.formatted("/quick")).answer().status()).isEqualTo(200);
      assertThat(younger.send("G").ended()).isTrue();
      assertThat(resting.send(GET.formatted("/quick")).answer().status()).isEqualTo(200);
    }
  }

  @Test
  void a_body_that_drips_in_is_answered_in_the_shape_of_the_place_and_nothing_is_done()
      throws Exception {
    for (String path : List.of("/events", "/fhir/whole")) {
      try (RawHttp slow = connect()) {
        slow.send("POST " + path + " HTTP/1.1\r\nHost: localhost\r\nContent-Length: 4000\r\n\r\n");
        for (int i = 0; i < 30; i++) {
          TimeUnit.MILLISECONDS.sleep(20);
          slow.send("x");
        }
        RawHttp.Answer answer = slow.answer();

        assertThat(answer.status()).isEqualTo(408);
        assertThat(answer.head().header("Connection")).isEqualTo("close");
        assertThat(answer.head().header("Cache-Control")).isEqualTo("no-store");
        assertThat(answer.body())
            .contains(
                "IND-0450",
                path.equals("/events") ? "\"outcome\":\"failed\"" : "OperationOutcome",
                "The request did not arrive in 300 ms; expected the whole of it");
      }
    }
    assertThat(done).isEmpty();
    assertThat(server.guard.traffic().slowBodies()).isEqualTo(2);
  }

  @Test
  void what_only_reads_is_told_when_its_answer_takes_too_long() throws Exception {
    try (RawHttp client = connect()) {
      RawHttp.Answer answer = client.send(GET.formatted("/fhir/never?patient=secret")).answer();

      assertThat(answer.status()).isEqualTo(503);
      assertThat(answer.head().header("Retry-After")).isNotNull();
      assertThat(answer.body())
          .contains("IND-0451", "The answer was not there in 300 ms")
          .doesNotContain("secret");
      assertThat(client.ended()).isTrue();
    }
  }

  @Test
  void what_may_have_been_written_is_cut_without_an_answer() throws Exception {
    try (RawHttp client = connect()) {
      client.send("POST /never HTTP/1.1\r\nHost: localhost\r\nContent-Length: 2\r\n\r\n{}");

      assertThat(isCut(client)).isTrue();
      assertThat(done).containsExactly("never answered: POST");
    }
  }

  @Test
  void an_answer_that_nobody_takes_in_is_cut_but_lines_are_not() throws Exception {
    try (RawHttp lines = connect();
        RawHttp large = connect()) {
      lines.send(GET.formatted("/lines"));
      assertThat(lines.head().status()).isEqualTo(200);
      large.send(GET.formatted("/large"));
      assertThat(large.head().status()).isEqualTo(200);
      Awaitility.await().until(() -> server.guard.traffic().slowAnswers() == 1);

      assertThat(taken(large)).isLessThan(LARGE);
      assertThat(taken(lines)).isEqualTo(LARGE);
    }
  }

  private static int taken(RawHttp connection) throws IOException {
    int bytes = 0;
    try {
      for (int more = 1; bytes < LARGE && more > 0; bytes += more) {
        more = connection.bytes(64 << 10);
      }
    } catch (SocketException cut) {
      // What came before it counts.
    }
    return bytes;
  }

  @Test
  void a_stream_of_lines_goes_on_for_as_long_as_it_likes() throws Exception {
    try (RawHttp stream = connect();
        RawHttp younger = connect()) {
      stream.send(
          "POST /echo HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/x-ndjson\r\n"
              + "Transfer-Encoding: chunked\r\n\r\n");
      stream.chunk("one\n");
      assertThat(stream.head().status()).isEqualTo(200);
      assertThat(stream.nextChunk()).isEqualTo("one\n");
      assertThat(younger.send(GET.formatted("/never")).answer().status()).isEqualTo(503);
      stream.chunk("two\n");
      assertThat(stream.nextChunk()).isEqualTo("two\n");
      stream.lastChunk();
      assertThat(stream.nextChunk()).isEmpty();
    }
  }

  @Test
  void the_rest_of_a_body_that_was_answered_early_has_no_longer() throws Exception {
    try (RawHttp slow = connect()) {
      slow.send("POST /early HTTP/1.1\r\nHost: localhost\r\nContent-Length: 4000\r\n\r\n");
      assertThat(slow.answer().status()).isEqualTo(404);
      drip(slow, "x".repeat(3000));
    }
  }

  @Test
  void saying_lines_does_not_help_a_request_that_was_answered() throws Exception {
    try (RawHttp slow = connect()) {
      slow.send(
          "POST /early HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/x-ndjson\r\n"
              + "Content-Length: 4000\r\n\r\n");
      assertThat(slow.answer().status()).isEqualTo(404);
      drip(slow, "x".repeat(3000));
    }
  }

  @Test
  void what_is_over_is_under_way_no_longer() throws Exception {
    try (RawHttp client = connect();
        RawHttp goneAway = connect()) {
      client.send(GET.formatted("/quick") + GET.formatted("/quick"));
      assertThat(client.answer().status()).isEqualTo(200);
      assertThat(client.answer().status()).isEqualTo(200);
      goneAway.send("POST /events HTTP/1.1\r\nHost: localhost\r\nContent-Length: 9\r\n\r\nx");
      Awaitility.await().until(() -> server.guard.traffic().underWay() == 1);
      goneAway.close();
      Awaitility.await().until(() -> server.guard.traffic().underWay() == 0);
    }
  }

  @Test
  void a_client_that_waits_to_be_invited_is_invited() throws Exception {
    try (RawHttp client = connect()) {
      client.send(
          "POST /events HTTP/1.1\r\nHost: localhost\r\nExpect: 100-continue\r\n"
              + "Content-Length: 2\r\n\r\n");
      assertThat(client.head().status()).isEqualTo(100);
      assertThat(client.send("{}").answer().body()).isEqualTo("taken");
    }
  }
}
