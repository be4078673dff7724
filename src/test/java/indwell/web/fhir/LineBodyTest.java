package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.refusal.IssueCode;
import indwell.web.BeforeAnswer;
import indwell.web.Exchange;
import indwell.web.HttpAnswer;
import indwell.web.LocalServer;
import indwell.web.RawHttp;
import io.vertx.core.Vertx;
import io.vertx.core.buffer.Buffer;
import io.vertx.core.http.HttpServer;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** A body that is taken line by line, before a taker that the test decides about. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class LineBodyTest {
  private static final long MOST = 3_000_000;
  private static final String HEAD = "POST / HTTP/1.1\r\nHost: x\r\n";

  private final Vertx vertx = Vertx.vertx();
  private final ExecutorService workers = Executors.newFixedThreadPool(2);
  private final List<String> lines = Collections.synchronizedList(new ArrayList<>());
  private final CountDownLatch released = new CountDownLatch(2);
  private HttpServer server;

  @BeforeEach
  void start() throws Exception {
    server =
        LocalServer.of(
            vertx,
            request ->
                new LineBody(
                        vertx,
                        new Exchange(vertx, request, BeforeAnswer.NOTHING),
                        new Taker(),
                        workers,
                        MOST,
                        released::countDown)
                    .start());
  }

  @AfterEach
  void stop() throws Exception {
    vertx.close().toCompletionStage().toCompletableFuture().get(10, TimeUnit.SECONDS);
    workers.shutdownNow();
  }

  /** Remembers the lines; refuses the one that says so. */
  private final class Taker implements LineTaker {
    @Override
    public void take(int number, Optional<byte[]> line) {
      String text = line.map(one -> new String(one, StandardCharsets.UTF_8)).orElse("too large");
      if (text.equals("refuse")) {
        throw FhirRefusal.of(422, IssueCode.BAD_RESOURCE, "", "Refused; expected otherwise.");
      }
      if (text.equals("fail")) {
        throw new IllegalStateException("As the test wishes");
      }
      lines.add(number + " " + text);
    }

    @Override
    public HttpAnswer answer() {
      return HttpAnswer.of(200, "text/plain", Buffer.buffer("took " + lines.size()));
    }

    @Override
    public void release() {
      released.countDown();
    }
  }

  private RawHttp connect() throws Exception {
    return new RawHttp(server.actualPort());
  }

  /** Whether all that was held was given back. */
  private void assertReleased() throws Exception {
    assertThat(released.await(20, TimeUnit.SECONDS)).isTrue();
  }

  @Test
  void lines_come_in_order_however_they_are_cut() throws Exception {
    try (RawHttp http = connect()) {
      http.send(HEAD + "Transfer-Encoding: chunked\r\n\r\n");
      for (String piece : List.of("o", "ne\ntw", "o\n", "\n\r\n", "three\r", "\nfour")) {
        http.chunk(piece);
      }
      http.lastChunk();

      assertThat(http.answer().body()).isEqualTo("took 4");
    }
    assertThat(lines).containsExactly("1 one", "2 two", "3 three", "4 four");
    assertReleased();
  }

  @Test
  void many_lines_are_taken_batch_by_batch() throws Exception {
    StringBuilder body = new StringBuilder();
    for (int i = 0; i < 20_000; i++) {
      body.append("line ").append(i).append(" and more of it, so that there are many batches\n");
    }
    try (RawHttp http = connect()) {
      http.send(HEAD + "Content-Length: " + body.length() + "\r\n\r\n").send(body.toString());

      assertThat(http.answer().body()).isEqualTo("took 20000");
    }
    assertThat(lines.get(19_999)).startsWith("20000 line 19999 ");
    assertReleased();
  }

  @Test
  void a_line_that_is_too_large_is_told_and_the_rest_goes_on() throws Exception {
    String large = "x".repeat(LineBody.MAX_LINE_BYTES + 1);
    String body = "one\n" + large + "\nthree\n";
    try (RawHttp http = connect()) {
      http.send(HEAD + "Content-Length: " + body.length() + "\r\n\r\n").send(body);

      assertThat(http.answer().body()).isEqualTo("took 3");
    }
    assertThat(lines).containsExactly("1 one", "2 too large", "3 three");
  }

  @Test
  void a_refusal_is_answered_while_the_sender_sends() throws Exception {
    try (RawHttp http = connect()) {
      http.send(HEAD + "Transfer-Encoding: chunked\r\n\r\n");
      http.chunk("one\nrefuse\n" + "filler\n".repeat(30_000));

      assertThat(http.answer().status()).isEqualTo(422);
    }
    assertThat(lines).containsExactly("1 one");
    assertReleased();
  }

  @Test
  void a_fault_is_answered_as_one() throws Exception {
    try (RawHttp http = connect()) {
      http.send(HEAD + "Content-Length: 5\r\n\r\nfail\n");

      assertThat(http.answer().status()).isEqualTo(500);
    }
    assertReleased();
  }

  @Test
  void a_body_that_states_too_much_is_not_asked_for() throws Exception {
    try (RawHttp http = connect()) {
      http.send(HEAD + "Expect: 100-continue\r\nContent-Length: 3000001\r\n\r\n");

      assertThat(http.answer().status()).isEqualTo(413);
    }
    assertReleased();
  }

  @Test
  void a_body_that_grows_too_large_is_ended() throws Exception {
    try (RawHttp http = connect()) {
      http.send(HEAD + "Transfer-Encoding: chunked\r\n\r\n");
      String chunk = "filler\n".repeat(40_000);
      for (int i = 0; i < 12; i++) {
        http.chunk(chunk);
      }

      assertThat(http.answer().status()).isEqualTo(413);
    }
    assertReleased();
  }

  @Test
  void a_sender_that_goes_away_leaves_nothing_held() throws Exception {
    try (RawHttp http = connect()) {
      http.send(HEAD + "Transfer-Encoding: chunked\r\n\r\n").chunk("one\ntwo\n");
    }

    assertReleased();
  }

  @Test
  void an_empty_body_is_answered() throws Exception {
    try (RawHttp http = connect()) {
      http.send(HEAD + "Content-Length: 0\r\n\r\n");

      assertThat(http.answer().body()).isEqualTo("took 0");
    }
    assertReleased();
  }
}
