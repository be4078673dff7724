package indwell.web.surveillance;

import indwell.access.Caller;
import indwell.adapter.store.memory.MemoryFacts;
import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.PlainFacility;
import indwell.port.ClinicalStore;
import indwell.usecase.Facility;
import indwell.usecase.KeepFacts;
import indwell.usecase.ReviewCandidates;
import indwell.usecase.UnmappedIntake;
import indwell.web.LocalServer;
import indwell.web.access.Visit;
import io.vertx.core.Vertx;
import io.vertx.core.http.HttpServer;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.function.UnaryOperator;

/**
 * Facts and candidates alone on a free port, in memory, on 10 March 2026 at a facility in Berlin.
 * Candidates see a store that nothing can be written to.
 */
final class FactsServer implements AutoCloseable {
  static final Instant NOW = Instant.parse("2026-03-10T12:00:00Z");

  private final MemoryStore store = new MemoryStore();
  private final Vertx vertx = Vertx.vertx();
  private final HttpClient client = HttpClient.newHttpClient();
  private final SurveillanceEndpoint endpoint;
  private final HttpServer server;

  FactsServer() throws Exception {
    this(ReadOnlyStore::new);
  }

  /**
   * A server whose candidates see another store.
   *
   * @param seen makes it of the one that {@link #take} fills
   */
  FactsServer(UnaryOperator<ClinicalStore> seen) throws Exception {
    Facility facility = PlainFacility.in(ZoneId.of("Europe/Berlin"));
    endpoint =
        new SurveillanceEndpoint(
            vertx,
            new KeepFacts(new MemoryFacts(), facility),
            new ReviewCandidates(seen.apply(store), facility),
            Clock.fixed(NOW, ZoneOffset.UTC));
    server =
        LocalServer.of(vertx, request -> endpoint.handle(request, Visit.by(Caller.DEVELOPMENT)));
  }

  /** Puts events into the store; no resources are made of them but the Patient. */
  void take(List<String> events) {
    UnmappedIntake.take(store, events);
  }

  /** Sends a body as JSON when it looks like it, else as CSV. */
  HttpResponse<String> send(String method, String path, String body) throws Exception {
    return send(method, path, body, Optional.empty());
  }

  HttpResponse<String> send(String method, String path, String body, Optional<String> ifMatch)
      throws Exception {
    boolean json = body.isEmpty() || body.matches("(?s)\\s*([{\\[]|null).*");
    return send(method, path, json ? "application/json" : "text/csv", body, ifMatch);
  }

  HttpResponse<String> send(
      String method, String path, String type, String body, Optional<String> ifMatch)
      throws Exception {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + server.actualPort() + path))
            .header("Content-Type", type)
            .method(
                method, body.isEmpty() ? BodyPublishers.noBody() : BodyPublishers.ofString(body));
    ifMatch.ifPresent(value -> request.header("If-Match", value));
    return client.send(request.build(), BodyHandlers.ofString());
  }

  @Override
  public void close() throws Exception {
    endpoint.stop();
    vertx.close().toCompletionStage().toCompletableFuture().get(10, TimeUnit.SECONDS);
  }
}
