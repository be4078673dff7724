package indwell.blackbox;

import static indwell.blackbox.Collector.attributes;
import static indwell.blackbox.Collector.parent;
import static indwell.blackbox.TracedService.idOf;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import io.opentelemetry.proto.trace.v1.Span;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.stream.IntStream;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The spans that the packaged service sends to a collector, and the lines of its log that belong to
 * them.
 */
@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class TracesIT {
  private static final String TRACE = "4bf92f3577b34da6a3ce929d0e0e4736";
  private static final String CALLER = "00f067aa0ba902b7";
  private static final int MANY = 40;

  @TempDir static Path data;

  private static final HttpClient CLIENT =
      HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).build();

  /** What the hospital's server was asked with: its headers {@code traceparent}. */
  private static final List<String> ASKED_WITH = new CopyOnWriteArrayList<>();

  private static TracedService traced;
  private static Collector collector;
  private static RunningService service;

  @BeforeAll
  static void start() throws Exception {
    traced =
        TracedService.start(
            data,
            exchange -> {
              ASKED_WITH.addAll(
                  exchange.getRequestHeaders().getOrDefault("traceparent", List.of("none")));
              exchange.sendResponseHeaders(201, -1);
            },
            Map.of(
                "INDWELL_TRACES_HEADERS",
                "x-key=Qz7-secret,x-other=a%20b",
                "INDWELL_ACCESS_LOG",
                "true",
                "QUARKUS_LOG_CONSOLE_JSON_ENABLED",
                "true"));
    collector = traced.collector();
    service = traced.service();
  }

  @AfterAll
  static void stop() throws Exception {
    traced.close();
  }

  private static HttpRequest.Builder request(String path) {
    return HttpRequest.newBuilder(service.uri(path));
  }

  private static HttpResponse<String> post(String body, String... headers) throws Exception {
    return CLIENT.send(event(body, headers), BodyHandlers.ofString());
  }

  private static HttpRequest event(String body, String... headers) {
    HttpRequest.Builder request =
        request("/events")
            .header("Content-Type", "application/json")
            .POST(BodyPublishers.ofString(body));
    return (headers.length == 0 ? request : request.headers(headers)).build();
  }

  private static List<Span> below(Span above) {
    return collector.spans().stream()
        .filter(span -> parent(span).equals(Collector.id(above)))
        .toList();
  }

  private static List<String> names(List<Span> spans) {
    return spans.stream().map(Span::getName).toList();
  }

  @Test
  void an_event_is_a_span_in_the_trace_of_its_caller_with_a_part_for_each_stage() throws Exception {
    HttpResponse<String> answer =
        post(
            Events.insertionOfPatient("t1"),
            "traceparent",
            "00-" + TRACE + "-" + CALLER + "-01",
            "tracestate",
            "rojo=00f067aa0ba902b7");
    assertThat(answer.statusCode()).isEqualTo(201);

    Span server = traced.spanOf(answer);
    assertThat(server.getName()).isEqualTo("POST /events");
    assertThat(server.getKind()).isEqualTo(Span.SpanKind.SPAN_KIND_SERVER);
    assertThat(Collector.trace(server)).isEqualTo(TRACE);
    assertThat(parent(server)).isEqualTo(CALLER);
    assertThat(server.getTraceState()).isEqualTo("rojo=00f067aa0ba902b7");
    assertThat(attributes(server))
        .isEqualTo(
            Map.of(
                "http.request.method", "POST",
                "http.route", "/events",
                "url.scheme", "http",
                "http.response.status_code", "201",
                "indwell.request.id", idOf(answer)));
    assertThat(names(below(server))).containsExactlyInAnyOrder("events.read", "events.record");
    Span record =
        below(server).stream().filter(s -> s.getName().equals("events.record")).findFirst().get();
    assertThat(names(below(record))).containsExactly("store.write");
    assertThat(names(below(below(record).get(0)))).containsExactly("resources.map");
  }

  @Test
  void a_broken_traceparent_begins_a_new_trace_and_is_no_error() throws Exception {
    HttpResponse<String> answer =
        post(
            Events.insertionOfPatient("t2"),
            "traceparent",
            "00-" + TRACE + "-" + CALLER + "-1",
            "tracestate",
            "rojo=00f067aa0ba902b7");
    assertThat(answer.statusCode()).isEqualTo(201);

    Span server = traced.spanOf(answer);
    assertThat(Collector.trace(server)).isNotEqualTo(TRACE);
    assertThat(parent(server)).isEmpty();
    assertThat(server.getTraceState()).isEmpty();
  }

  /** The flag 00: the caller records nothing, and so do we, but for the ids in the log. */
  @Test
  void what_the_caller_does_not_sample_is_not_sent() throws Exception {
    String trace = "0af7651916cd43dd8448eb211c80319c";
    HttpResponse<String> answer =
        post(Events.insertionOfPatient("t3"), "traceparent", "00-" + trace + "-" + CALLER + "-00");
    traced.spanOf(post(Events.insertionOfPatient("t4")));

    assertThat(collector.trace(trace)).isEmpty();
    assertThat(accessLine(idOf(answer)).at("/mdc/traceId").asText()).isEqualTo(trace);
  }

  /** Many at once share threads and transactions; each keeps its own trace, parts and lines. */
  @Test
  void requests_at_the_same_time_do_not_mix() throws Exception {
    List<CompletableFuture<HttpResponse<String>>> sent =
        IntStream.range(0, MANY)
            .mapToObj(
                i ->
                    CLIENT.sendAsync(
                        event(
                            i % 4 == 0 ? "{}" : Events.insertionOfPatient("p" + i),
                            "traceparent",
                            "00-%032x-%016x-01".formatted(0x7000 + i, 0x9000 + i)),
                        BodyHandlers.ofString()))
            .toList();
    Map<String, String> traces = new HashMap<>();
    for (int i = 0; i < MANY; i++) {
      HttpResponse<String> answer = sent.get(i).get();
      assertThat(answer.statusCode()).isEqualTo(i % 4 == 0 ? 422 : 201);
      Span server = traced.spanOf(answer);
      assertThat(Collector.trace(server)).isEqualTo("%032x".formatted(0x7000 + i));
      assertThat(parent(server)).isEqualTo("%016x".formatted(0x9000 + i));
      assertThat(attributes(server).get("indwell.request.id")).isEqualTo(idOf(answer));
      traces.put(idOf(answer), "%032x".formatted(0x7000 + i));
    }
    for (Map.Entry<String, String> one : traces.entrySet()) {
      List<Span> trace = collector.trace(one.getValue());
      List<Span> records = trace.stream().filter(s -> s.getName().equals("events.record")).toList();
      assertThat(records).hasSize(1);
      boolean led = below(records.get(0)).stream().anyMatch(s -> s.getName().equals("store.write"));
      // Whoever was recorded together with others says with whom.
      boolean refused =
          trace.stream().anyMatch(s -> attributes(s).containsKey("indwell.issue.code"));
      assertThat(led || refused || records.get(0).getLinksCount() == 1).isTrue();
      assertThat(accessLine(one.getKey()).at("/mdc/traceId").asText()).isEqualTo(one.getValue());
    }
  }

  @Test
  void each_call_to_the_hospital_is_a_span_whose_id_it_is_sent() throws Exception {
    assertThat(post(Events.insertionOfPatient("t5")).statusCode()).isEqualTo(201);
    Awaitility.await()
        .until(
            () -> collector.spans().stream().anyMatch(TracesIT::isCall) && !ASKED_WITH.isEmpty());

    for (Span call : collector.spans().stream().filter(TracesIT::isCall).toList()) {
      String trace = Collector.trace(call);
      assertThat(call.getName()).matches("PUT /[A-Z][A-Za-z]+/\\{id}");
      assertThat(attributes(call))
          .containsEntry("http.request.method", "PUT")
          .containsEntry("server.address", "127.0.0.1")
          .containsEntry("http.response.status_code", "201");
      // Of the flags the last bit says that it is recorded; level 2 knows another.
      assertThat(ASKED_WITH)
          .anyMatch(header -> header.matches("00-" + trace + "-" + Collector.id(call) + "-0[13]"));
      Awaitility.await().until(() -> names(collector.trace(trace)).contains("publish.lane"));
      assertThat(collector.trace(trace))
          .allMatch(span -> span.getKind() != Span.SpanKind.SPAN_KIND_SERVER);
    }
    assertThat(ASKED_WITH).doesNotContain("none");
  }

  private static boolean isCall(Span span) {
    return span.getKind() == Span.SpanKind.SPAN_KIND_CLIENT;
  }

  @Test
  void a_refusal_has_its_code_in_the_span_and_in_the_line_of_the_request() throws Exception {
    HttpResponse<String> event = post("{\"source\":\"x\"}");
    HttpResponse<String> fhir =
        CLIENT.send(request("/fhir/Patient?nothing=1").build(), BodyHandlers.ofString());
    HttpResponse<String> page =
        CLIENT.send(request("/patients/nobody").build(), BodyHandlers.ofString());

    for (HttpResponse<String> answer : List.of(event, fhir, page)) {
      assertThat(answer.statusCode()).isBetween(400, 422);
      String code = attributes(traced.spanOf(answer)).get("indwell.issue.code");
      assertThat(code).matches("IND-\\d{4}");
      assertThat(answer.body()).contains(code);
      assertThat(accessLine(idOf(answer)).get("message").asText())
          .contains(" " + answer.statusCode() + " " + code + " in ");
    }
    assertThat(traced.spanOf(fhir).getName()).isEqualTo("GET /fhir/{type}");
    assertThat(attributes(traced.spanOf(fhir))).containsEntry("indwell.fhir.type", "Patient");
    assertThat(traced.spanOf(page).getName()).startsWith("GET /patients/:");
  }

  @Test
  void the_credentials_of_the_collector_are_sent_and_said_nowhere() throws Exception {
    traced.spanOf(post(Events.insertionOfPatient("t6")));

    assertThat(collector.headers())
        .isNotEmpty()
        .allSatisfy(
            headers -> {
              assertThat(headers.get("X-key")).containsExactly("Qz7-secret");
              assertThat(headers.get("X-other")).containsExactly("a b");
            });
    assertThat(service.log()).doesNotContain("Qz7-secret");
    for (byte[] body : collector.bodies()) {
      assertThat(new String(body, StandardCharsets.ISO_8859_1)).doesNotContain("Qz7-secret");
    }
  }

  @Test
  void whoever_looks_whether_the_service_is_well_leaves_no_span() throws Exception {
    HttpResponse<String> metrics = service.get("/metrics");
    HttpResponse<String> health = service.get("/q/health/live");
    traced.spanOf(post(Events.insertionOfPatient("t7")));

    assertThat(collector.spans())
        .noneMatch(span -> attributes(span).containsValue(idOf(metrics)))
        .noneMatch(span -> attributes(span).containsValue(idOf(health)));
  }

  /** Somebody else holds the store: what is logged of it is logged by threads of ours. */
  @Test
  void what_is_logged_on_the_way_carries_the_request_and_trace_that_it_is_about() throws Exception {
    Map<String, String> traces = new HashMap<>();
    try (HeldDatabase held = HeldDatabase.in(data)) {
      List<CompletableFuture<HttpResponse<String>>> sent =
          IntStream.range(0, 6)
              .mapToObj(
                  i ->
                      CLIENT.sendAsync(
                          event(
                              Events.insertionOfPatient("held" + i),
                              "traceparent",
                              "00-%032x-%016x-01".formatted(0xa000 + i, 1)),
                          BodyHandlers.ofString()))
              .toList();
      for (int i = 0; i < sent.size(); i++) {
        HttpResponse<String> answer = sent.get(i).get();
        assertThat(answer.statusCode()).isEqualTo(503);
        traces.put(idOf(answer), "%032x".formatted(0xa000 + i));
      }
    }
    // Whoever still waits gets on first; until then others are told to come again.
    Awaitility.await().until(() -> service.get("/q/health/ready").statusCode() == 200);
    Map<String, String> logged = new HashMap<>();
    for (String line : service.log().lines().toList()) {
      JsonNode read = new ObjectMapper().readTree(line);
      if (read.get("message").asText().startsWith("An event was not recorded")) {
        logged.put(read.at("/mdc/requestId").asText(), read.at("/mdc/traceId").asText());
      }
    }
    assertThat(logged).isNotEmpty();
    assertThat(traces).containsAllEntriesOf(logged);
  }

  private static JsonNode accessLine(String request) throws Exception {
    Awaitility.await().until(() -> line(request).isPresent());
    return line(request).orElseThrow();
  }

  private static Optional<JsonNode> line(String request) throws Exception {
    for (String line : service.log().lines().toList()) {
      JsonNode read = new ObjectMapper().readTree(line);
      if (read.get("loggerName").asText().equals("indwell.access")
          && read.at("/mdc/requestId").asText().equals(request)) {
        return Optional.of(read);
      }
    }
    return Optional.empty();
  }
}
