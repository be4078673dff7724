package indwell.web.events;

import static indwell.web.events.IntakeServer.weight;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.web.RawHttp;
import java.io.EOFException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.Stream;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Streams of events (contract, section 2), byte by byte on the wire. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class EventStreamTest {
  private static final String HEAD =
      "POST /events HTTP/1.1\r\nHost: a\r\nContent-Type: application/x-ndjson\r\n"
          + "Transfer-Encoding: chunked\r\n\r\n";

  @TempDir Path spool;

  private IntakeServer server(IntakeServer.Each recorder) throws Exception {
    return server(recorder, EventLimits.DEFAULT);
  }

  private IntakeServer server(IntakeServer.Each recorder, EventLimits limits) throws Exception {
    return new IntakeServer(recorder, limits, spool);
  }

  @Test
  void each_line_is_answered_while_the_body_is_still_open() throws Exception {
    try (IntakeServer server = server(IntakeServer::accept);
        RawHttp http = new RawHttp(server.port())) {
      http.send(HEAD).chunk(weight(1) + "\n");
      RawHttp.Head head = http.head();
      assertThat(head.status()).isEqualTo(200);
      assertThat(head.header("Content-Type")).isEqualTo("application/x-ndjson");
      assertThat(http.nextChunk()).startsWith("{\"index\":1,").endsWith("}\n");
      http.chunk("\n  \r\n" + weight(2) + "\r\n");
      assertThat(http.nextChunk()).startsWith("{\"index\":2,").contains("\"eventId\":\"e2\"");
      http.chunk(weight(3)).lastChunk();
      assertThat(http.allChunks()).startsWith("{\"index\":3,").contains("\"eventId\":\"e3\"");
      http.send(HEAD).chunk(weight(4) + "\n").lastChunk();
      assertThat(http.head().status()).isEqualTo(200);
      assertThat(http.allChunks()).startsWith("{\"index\":1,").contains("\"eventId\":\"e4\"");
    }
  }

  @Test
  void a_client_may_send_everything_before_it_reads_anything() throws Exception {
    EventLimits small = new EventLimits(2, 1 << 20, 4, 16, 16 << 10, 32 << 10);
    int lines = 20_000;
    try (IntakeServer server = server(IntakeServer::accept, small);
        RawHttp http = new RawHttp(server.port())) {
      http.send(HEAD);
      for (int i = 1; i <= lines; i++) {
        http.chunk(weight(i) + "\n");
      }
      http.lastChunk();
      Awaitility.await().atMost(Duration.ofSeconds(60)).until(() -> server.recorded.get() == lines);
      assertThat(http.head().status()).isEqualTo(200);
      String[] answers = http.allChunks().split("\n");
      assertThat(answers).hasSize(lines);
      for (int i = 1; i <= lines; i++) {
        assertThat(answers[i - 1])
            .startsWith("{\"index\":" + i + ",\"source\":\"ward\",\"eventId\":\"e" + i + "\"");
      }
    }
    try (Stream<Path> left = Files.list(spool)) {
      assertThat(left).isEmpty();
    }
  }

  @Test
  void a_slow_store_slows_the_sender_down_instead_of_filling_the_memory() throws Exception {
    EventLimits small = new EventLimits(1, 1 << 20, 4, 8, 8 << 10, 8 << 10);
    IntakeServer.Each slow =
        (reading, now) -> {
          sleep(2);
          return IntakeServer.accept(reading, now);
        };
    try (IntakeServer server = server(slow, small);
        RawHttp http = new RawHttp(server.port())) {
      http.send(HEAD);
      int lines = 1_000;
      for (int i = 1; i <= lines; i++) {
        http.chunk(weight(i) + " ".repeat(40_000) + "\n");
      }
      http.lastChunk();
      // 40 MB were sent through sockets that hold 10 MB at most, so most must have been waited for.
      assertThat(server.recorded.get()).isGreaterThan(lines / 2);
      assertThat(http.head().status()).isEqualTo(200);
      assertThat(http.allChunks().split("\n")).hasSize(lines);
    }
  }

  @Test
  void a_line_beyond_64_KiB_is_refused_alone() throws Exception {
    try (IntakeServer server = server(IntakeServer::accept);
        RawHttp http = new RawHttp(server.port())) {
      http.send(HEAD)
          .chunk(weight(1) + "\n" + "x".repeat(70_000))
          .chunk("y".repeat(70_000) + "\n" + weight(2) + "\n")
          .lastChunk();
      assertThat(http.head().status()).isEqualTo(200);
      String[] answers = http.allChunks().split("\n");
      assertThat(answers).hasSize(3);
      assertThat(answers[1])
          .startsWith("{\"index\":2,\"outcome\":\"refused\"")
          .contains("IND-0004");
      assertThat(answers[2]).startsWith("{\"index\":3,").contains("recorded");
    }
  }

  @Test
  void a_line_that_is_no_JSON_is_refused_alone() throws Exception {
    try (IntakeServer server = server(IntakeServer::accept);
        RawHttp http = new RawHttp(server.port())) {
      http.send(HEAD).chunk("{\n[1]\n" + weight(2) + "\n").lastChunk();
      http.head();
      String[] answers = http.allChunks().split("\n");
      assertThat(answers).hasSize(3);
      assertThat(answers[0]).contains("refused", "IND-0001");
      assertThat(answers[1]).contains("refused", "IND-0009");
      assertThat(answers[2]).contains("recorded");
    }
  }

  @Test
  void an_empty_stream_is_answered_by_an_empty_one() throws Exception {
    try (IntakeServer server = server(IntakeServer::accept);
        RawHttp http = new RawHttp(server.port())) {
      http.send(HEAD).lastChunk();
      assertThat(http.head().status()).isEqualTo(200);
      assertThat(http.allChunks()).isEmpty();
    }
  }

  @Test
  void a_body_that_breaks_off_leaves_its_piece_of_a_line_unrecorded() throws Exception {
    try (IntakeServer server = server(IntakeServer::accept)) {
      try (RawHttp http = new RawHttp(server.port())) {
        http.send(HEAD).chunk(weight(1) + "\n" + weight(2));
        http.head();
        http.nextChunk();
      }
      // The next stream gets its turn after the broken one has been cleaned up.
      try (RawHttp http = new RawHttp(server.port())) {
        http.send(HEAD).chunk(weight(3) + "\n").lastChunk();
        http.head();
        http.allChunks();
      }
      assertThat(server.recorded).hasValue(2);
    }
  }

  @Test
  void a_store_that_goes_away_in_the_middle_cuts_the_stream_without_its_final_chunk()
      throws Exception {
    AtomicInteger count = new AtomicInteger();
    IntakeServer.Each failing =
        (reading, now) ->
            count.incrementAndGet() <= 2
                ? IntakeServer.accept(reading, now)
                : IntakeServer.storeAway(reading, now);
    try (IntakeServer server = server(failing);
        RawHttp http = new RawHttp(server.port())) {
      http.send(HEAD).chunk(weight(1) + "\n" + weight(2) + "\n" + weight(3) + "\n");
      assertThat(http.head().status()).isEqualTo(200);
      StringBuilder answers = new StringBuilder();
      assertThatThrownBy(
              () -> {
                while (true) {
                  answers.append(http.nextChunk());
                }
              })
          .isInstanceOf(EOFException.class);
      assertThat(answers.toString().split("\n")).hasSize(2);
    }
  }

  @Test
  void a_store_that_is_away_from_the_start_turns_the_stream_away() throws Exception {
    try (IntakeServer server = server(IntakeServer::storeAway);
        RawHttp http = new RawHttp(server.port())) {
      http.send(HEAD).chunk(weight(1) + "\n");
      RawHttp.Answer answer = http.answer();
      assertThat(answer.status()).isEqualTo(503);
      assertThat(answer.head().header("Retry-After")).isEqualTo("1");
    }
  }

  @Test
  void more_streams_than_there_is_room_for_are_turned_away_until_one_ends() throws Exception {
    EventLimits one = new EventLimits(2, 1 << 20, 1, 16, 16 << 10, 32 << 10);
    try (IntakeServer server = server(IntakeServer::accept, one);
        RawHttp first = new RawHttp(server.port())) {
      first.send(HEAD).chunk(weight(1) + "\n");
      first.head();
      first.nextChunk();
      try (RawHttp second = new RawHttp(server.port())) {
        RawHttp.Answer answer = second.send(HEAD).chunk(weight(2) + "\n").answer();
        assertThat(answer.status()).isEqualTo(429);
        assertThat(answer.head().header("Retry-After")).isEqualTo("1");
      }
      first.close();
      Awaitility.await()
          .atMost(Duration.ofSeconds(10))
          .until(
              () -> {
                try (RawHttp third = new RawHttp(server.port())) {
                  return third.send(HEAD).lastChunk().head().status() == 200;
                }
              });
    }
  }

  @Test
  void a_stop_cuts_an_open_stream() throws Exception {
    try (IntakeServer server = server(IntakeServer::accept);
        RawHttp http = new RawHttp(server.port())) {
      http.send(HEAD).chunk(weight(1) + "\n");
      http.head();
      http.nextChunk();
      server.intake().stop();
      assertThat(http.ended()).isTrue();
    }
  }

  @Test
  void a_defect_on_one_line_answers_nothing_false() throws Exception {
    IntakeServer.Each broken =
        (reading, now) -> {
          throw new IllegalStateException("planted");
        };
    try (IntakeServer server = server(broken);
        RawHttp http = new RawHttp(server.port())) {
      http.send(HEAD).chunk(weight(1) + "\n");
      RawHttp.Answer answer = http.answer();
      assertThat(answer.status()).isEqualTo(500);
      assertThat(answer.body()).contains("IND-0090").doesNotContain("planted");
    }
  }

  private static void sleep(long millis) {
    try {
      Thread.sleep(millis);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
