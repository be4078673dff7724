package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.util.Map;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The packaged service beside a collector that is wrong, silent or about to lose it. */
@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class CollectorAwayIT {
  private static final int EVENTS = 20;

  @TempDir Path data;

  private RunningService start(String endpoint) throws Exception {
    return RunningService.start(
        Map.of("INDWELL_DATA_DIR", data.toString(), "INDWELL_TRACES_ENDPOINT", endpoint));
  }

  private static double spans(RunningService service, String outcome) throws Exception {
    String line = "indwell_traces_spans_total{outcome=\"" + outcome + "\"}";
    return service
        .get("/metrics")
        .body()
        .lines()
        .filter(one -> one.startsWith(line))
        .mapToDouble(one -> Double.parseDouble(one.substring(line.length())))
        .sum();
  }

  @Test
  void a_collector_that_takes_nothing_fails_no_request_and_is_told_of_once() throws Exception {
    try (Collector collector = new Collector()) {
      collector.answers(400);
      try (RunningService service = start(collector.endpoint())) {
        for (int i = 0; i < EVENTS; i++) {
          assertThat(service.postEvent(Events.insertionOfPatient("a" + i)).statusCode())
              .isEqualTo(201);
        }
        Awaitility.await().until(() -> spans(service, "failed") >= EVENTS);
        collector.answers(200);
        Awaitility.await()
            .until(
                () -> {
                  service.get("/fhir/metadata");
                  return service.log().contains("Spans are taken again.");
                });

        assertThat(spans(service, "taken")).isPositive();
        assertThat(service.log().lines().filter(line -> line.contains("not taken by"))).hasSize(1);
      }
    }
  }

  @Test
  void a_collector_that_never_answers_holds_up_neither_requests_nor_a_stop() throws Exception {
    try (ServerSocket silent = new ServerSocket(0, 50, InetAddress.getLoopbackAddress());
        RunningService service =
            start("http://127.0.0.1:" + silent.getLocalPort() + "/v1/traces")) {
      for (int i = 0; i < EVENTS; i++) {
        assertThat(service.postEvent(Events.insertionOfPatient("s" + i)).statusCode())
            .isEqualTo(201);
      }
      assertThat(service.terminate()).isEqualTo(143);
    }
  }

  @Test
  void a_stop_sends_the_spans_that_wait() throws Exception {
    try (Collector collector = new Collector();
        RunningService service = start(collector.endpoint())) {
      HttpResponse<String> answer = service.postEvent(Events.insertionOfPatient("l1"));
      String id = answer.headers().firstValue("X-Request-Id").orElseThrow();
      assertThat(service.terminate()).isEqualTo(143);

      assertThat(collector.spans()).anyMatch(span -> Collector.attributes(span).containsValue(id));
    }
  }
}
