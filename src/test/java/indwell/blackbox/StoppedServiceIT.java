package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.web.RawHttp;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A service that is told to stop (SIGTERM) finishes what it accepted and turns the rest away. */
@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class StoppedServiceIT {
  private static final int CLIENTS = 4;
  private static final int ENOUGH_ACKNOWLEDGED = 40;

  /** How a process ends that SIGTERM ended: 128 and the number of the signal (POSIX shells). */
  private static final int ENDED_BY_TERM = 128 + 15;

  @TempDir Path data;

  private final ConcurrentLinkedQueue<String> acknowledged = new ConcurrentLinkedQueue<>();
  private final ConcurrentLinkedQueue<String> strange = new ConcurrentLinkedQueue<>();
  private final AtomicInteger next = new AtomicInteger();

  private Map<String, String> environment() {
    return Map.of("INDWELL_DATA_DIR", data.toString());
  }

  @Test
  void what_was_accepted_under_load_is_answered_and_what_was_acknowledged_is_there()
      throws Exception {
    try (RunningService service = RunningService.start(environment())) {
      ExecutorService clients = Executors.newFixedThreadPool(CLIENTS);
      for (int i = 0; i < CLIENTS; i++) {
        clients.execute(() -> postUntilRefused(service));
      }
      while (acknowledged.size() < ENOUGH_ACKNOWLEDGED) {
        TimeUnit.MILLISECONDS.sleep(5);
      }
      assertThat(service.terminate()).isEqualTo(ENDED_BY_TERM);
      clients.shutdown();
      assertThat(clients.awaitTermination(30, TimeUnit.SECONDS)).isTrue();
      assertThat(strange).isEmpty();
      assertThat(service.log()).contains("Stopping:").doesNotContain("ERROR", "were not answered");
    }
    // Nothing has to be mended: it starts on the same data and stops again.
    try (RunningService again = RunningService.start(environment())) {
      for (String id : acknowledged) {
        assertThat(again.get(Events.whereFound(id)).body())
            .as("insertion %s", id)
            .contains("\"total\":1");
      }
      assertThat(again.terminate()).isEqualTo(ENDED_BY_TERM);
    }
  }

  /** A connection that is refused is a request that was never accepted. */
  private void postUntilRefused(RunningService service) {
    try {
      while (true) {
        String id = "k" + next.incrementAndGet();
        HttpResponse<String> answer = service.postEvent(Events.insertionOfPatient(id));
        if (answer.statusCode() == 201) {
          acknowledged.add(id);
        } else if (answer.statusCode() != 503
            || answer.headers().firstValue("Retry-After").isEmpty()) {
          strange.add(answer.statusCode() + " " + answer.body());
        }
      }
    } catch (IOException gone) {
      // The service has ended.
    }
  }

  @Test
  void a_request_that_was_begun_is_finished_while_new_ones_are_turned_away() throws Exception {
    String event = Events.insertionOfPatient("begun");
    try (RunningService service = RunningService.start(environment());
        RawHttp begun = new RawHttp(service.port());
        RawHttp stream = new RawHttp(service.port())) {
      stream.send(
          "POST /events HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/x-ndjson\r\n"
              + "Transfer-Encoding: chunked\r\n\r\n");
      stream.chunk(Events.insertionOfPatient("stream") + "\n");
      assertThat(stream.head().status()).isEqualTo(200);
      assertThat(stream.nextChunk()).contains("\"outcome\":\"recorded\"");
      begun.send(
          "POST /events HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\n"
              + "Expect: 100-continue\r\nContent-Length: "
              + event.length()
              + "\r\n\r\n");
      assertThat(begun.head().status()).isEqualTo(100);

      service.signalTerm();
      // The stream is cut, without its last chunk; that is how the test sees that the stop began.
      assertThat(stream.ended()).isTrue();
      HttpResponse<String> late = service.postEvent(Events.insertionOfPatient("late"));
      assertThat(late.statusCode()).isEqualTo(503);
      assertThat(late.headers().firstValue("Retry-After")).isPresent();
      assertThat(late.body()).contains("\"outcome\":\"failed\"", "IND-0092", "is stopping");
      HttpResponse<String> read = service.get("/fhir/metadata");
      assertThat(read.statusCode()).isEqualTo(503);
      assertThat(read.body()).contains("OperationOutcome");
      assertThat(service.get("/q/health/ready").statusCode()).isEqualTo(503);
      assertThat(service.get("/q/health/live").statusCode()).isEqualTo(200);

      assertThat(begun.send(event).answer().status()).isEqualTo(201);
      assertThat(service.awaitEnd()).isEqualTo(ENDED_BY_TERM);
    }
    try (RunningService again = RunningService.start(environment())) {
      for (Map.Entry<String, String> one :
          List.of(Map.entry("begun", "1"), Map.entry("stream", "1"), Map.entry("late", "0"))) {
        assertThat(again.get(Events.whereFound(one.getKey())).body())
            .as(one.getKey())
            .contains("\"total\":" + one.getValue());
      }
    }
  }

  @Test
  void what_never_ends_is_not_waited_for_longer_than_is_set() throws Exception {
    try (RunningService service =
            RunningService.start(
                Map.of("INDWELL_DATA_DIR", data.toString(), "INDWELL_STOP_WITHIN", "500ms"));
        RawHttp never = new RawHttp(service.port())) {
      never.send(
          "POST /events HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\n"
              + "Expect: 100-continue\r\nContent-Length: 100\r\n\r\n");
      assertThat(never.head().status()).isEqualTo(100);

      assertThat(service.terminate()).isEqualTo(ENDED_BY_TERM);
      assertThat(service.log()).contains("1 requests were not answered in time and are cut.");
    }
  }
}
