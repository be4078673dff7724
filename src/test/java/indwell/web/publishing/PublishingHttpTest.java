package indwell.web.publishing;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.access.Caller;
import indwell.adapter.store.memory.MemoryStore;
import indwell.port.LaneHold;
import indwell.port.Outbox;
import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import indwell.port.Upstream;
import indwell.port.UpstreamAnswer;
import indwell.port.trace.NoTracing;
import indwell.usecase.publish.Addressing;
import indwell.usecase.publish.Backoff;
import indwell.usecase.publish.Pace;
import indwell.usecase.publish.Publisher;
import indwell.usecase.publish.Publishing;
import indwell.web.LocalServer;
import indwell.web.access.Visit;
import io.vertx.core.Vertx;
import io.vertx.core.http.HttpServer;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** The table of requests of docs/publishing.md. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PublishingHttpTest {
  private static final Instant NOON = Instant.parse("2026-03-01T12:00:00Z");
  private static final Clock CLOCK = Clock.fixed(NOON.plusSeconds(90), ZoneOffset.UTC);

  private final Vertx vertx = Vertx.vertx();
  private final HttpClient client = HttpClient.newHttpClient();
  private final MemoryStore store = new MemoryStore();
  private final Outbox outbox = store.outbox();
  private HttpServer server;
  private Caller caller = Caller.DEVELOPMENT;

  @BeforeEach
  void stand() {
    store.write(
        w -> {
          w.put(
              new StoredResource(
                  new ResourceKey("Observation", "o1"), 1, NOON, "p1", List.of(), "{}"));
          return true;
        });
    outbox.take(10);
    outbox.hold(
        new LaneHold("p1", true, 1, NOON, "Observation/o1", "422 (invalid)", NOON.plusSeconds(5)));
  }

  @AfterEach
  void stop() throws Exception {
    vertx.close().toCompletionStage().toCompletableFuture().get(10, TimeUnit.SECONDS);
  }

  /** Nothing is sent: it is never started. */
  private void serve(boolean on) throws Exception {
    Publisher idle =
        new Publisher(
            store,
            outbox,
            new Nobody(),
            Addressing.OURS,
            Pace.of(
                1,
                Duration.ofSeconds(1),
                new Backoff(Duration.ofSeconds(1), Duration.ofSeconds(1), () -> 0)),
            CLOCK,
            "https://fhir.example/r4",
            "test",
            NoTracing.OFF);
    Publishing publishing =
        new Publishing(
            outbox,
            on ? Optional.of(idle) : Optional.empty(),
            on ? "https://fhir.example/r4" : "",
            CLOCK);
    PublishingEndpoint endpoint = new PublishingEndpoint(vertx, publishing);
    server = LocalServer.of(vertx, request -> endpoint.handle(request, Visit.by(caller)));
  }

  private static final class Nobody implements Upstream {
    @Override
    public UpstreamAnswer put(Sending sending) {
      throw new AssertionError("Nobody is asked.");
    }

    @Override
    public UpstreamAnswer read(String type, String id) {
      throw new AssertionError("Nobody is asked.");
    }

    @Override
    public UpstreamAnswer search(String type, String criterion) {
      throw new AssertionError("Nobody is asked.");
    }

    @Override
    public UpstreamAnswer page(String address) {
      throw new AssertionError("Nobody is asked.");
    }
  }

  private HttpResponse<String> send(String method, String path, String... headers)
      throws Exception {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + server.actualPort() + path))
            .method(method, HttpRequest.BodyPublishers.noBody());
    if (headers.length > 0) {
      request.headers(headers);
    }
    return client.send(request.build(), HttpResponse.BodyHandlers.ofString());
  }

  private static JsonNode json(HttpResponse<String> response) throws Exception {
    return new ObjectMapper().readTree(response.body());
  }

  @Test
  void it_tells_what_waits_and_what_stands_still() throws Exception {
    serve(true);
    HttpResponse<String> answer = send("GET", "/publishing");
    assertThat(answer.statusCode()).isEqualTo(200);
    assertThat(answer.headers().firstValue("Cache-Control")).contains("no-store");
    assertThat(json(answer))
        .isEqualTo(
            new ObjectMapper()
                .readTree(
                    """
                    {"state":"standby","target":"https://fhir.example/r4","asOf":"2026-03-01T12:01:30Z",
                     "waiting":1,"unread":0,"parked":1,"sentSinceStart":0,"conflictsSettledSinceStart":0,
                     "oldest":"2026-03-01T12:00:00Z","lagSeconds":90,
                     "standing":[{"parked":true,"reason":"422 (invalid)","since":"2026-03-01T12:00:05Z",
                       "attempts":1,"resource":"Observation/o1","waiting":1}]}
                    """));
  }

  @Test
  void what_stands_still_is_released_once() throws Exception {
    serve(true);
    String path = "/publishing/parked/Observation/o1/$release";
    assertThat(send("POST", path).statusCode()).isEqualTo(200);
    assertThat(outbox.held("p1")).isEmpty();
    assertThat(outbox.backlog().waiting()).isEqualTo(1);
    HttpResponse<String> again = send("POST", path);
    assertThat(again.statusCode()).isEqualTo(404);
    assertThat(json(again).at("/issues/0/code").textValue()).isEqualTo("IND-0430");
    assertThat(json(again).at("/issues/0/diagnostics").textValue())
        .isEqualTo("Observation/o1 does not stand still; expected one that GET /publishing lists.");
  }

  @Test
  void what_stands_still_is_skipped() throws Exception {
    serve(true);
    assertThat(send("POST", "/publishing/parked/Observation/o1/%24skip").statusCode())
        .isEqualTo(200);
    assertThat(outbox.backlog().waiting()).isZero();
  }

  @Test
  void the_connection_is_released() throws Exception {
    serve(true);
    outbox.hold(new LaneHold(LaneHold.CONNECTION, true, 1, NOON, "", "redirected: 307", NOON));
    assertThat(json(send("GET", "/publishing")).at("/state").textValue()).isEqualTo("parked");
    assertThat(json(send("GET", "/publishing")).at("/connection/reason").textValue())
        .isEqualTo("redirected: 307");
    assertThat(send("POST", "/publishing/connection/$release").statusCode()).isEqualTo(200);
    assertThat(send("POST", "/publishing/connection/$release").statusCode()).isEqualTo(404);
  }

  @Test
  void while_it_is_off_it_says_so_and_does_nothing() throws Exception {
    serve(false);
    JsonNode status = json(send("GET", "/publishing"));
    assertThat(status.at("/state").textValue()).isEqualTo("off");
    for (String count : List.of("waiting", "unread", "parked")) {
      assertThat(status.get(count).longValue()).as(count).isZero();
    }
    assertThat(status.has("lagSeconds")).isFalse();
    assertThat(status.get("standing")).isEmpty();
    HttpResponse<String> answer = send("POST", "/publishing/parked/Observation/o1/$release");
    assertThat(answer.statusCode()).isEqualTo(409);
    assertThat(json(answer).at("/issues/0/code").textValue()).isEqualTo("IND-0431");
    assertThat(outbox.held("p1")).isPresent();
  }

  @Test
  void a_page_of_another_service_does_nothing() throws Exception {
    serve(true);
    HttpResponse<String> answer =
        send(
            "POST",
            "/publishing/parked/Observation/o1/$skip",
            "Origin",
            "https://elsewhere.example");
    assertThat(answer.statusCode()).isEqualTo(403);
    assertThat(outbox.held("p1")).isPresent();
    String own = "http://127.0.0.1:" + server.actualPort();
    assertThat(send("POST", "/publishing/parked/Observation/o1/$skip", "Origin", own).statusCode())
        .isEqualTo(200);
  }

  @Test
  void nobody_is_told_anything() throws Exception {
    caller = Caller.NOBODY;
    serve(true);
    assertThat(send("GET", "/publishing").statusCode()).isEqualTo(401);
    assertThat(send("GET", "/publishing").body()).contains("IND-0401").doesNotContain("o1");
    assertThat(send("POST", "/publishing/parked/Observation/o1/$skip").statusCode()).isEqualTo(401);
    assertThat(outbox.held("p1")).isPresent();
  }

  @Test
  void other_methods_and_addresses_are_refused() throws Exception {
    serve(true);
    assertThat(send("PUT", "/publishing").statusCode()).isEqualTo(405);
    assertThat(send("PUT", "/publishing").headers().firstValue("Allow")).contains("GET, HEAD");
    assertThat(send("GET", "/publishing/connection/$release").statusCode()).isEqualTo(405);
    assertThat(send("POST", "/publishing/connection/$skip").statusCode()).isEqualTo(404);
    assertThat(send("POST", "/publishing/parked/Observation/$release").statusCode()).isEqualTo(404);
  }
}
