package indwell.web.access;

import com.nimbusds.jose.JOSEObjectType;
import com.nimbusds.jose.JWSAlgorithm;
import indwell.usecase.audit.AuditTrail;
import indwell.web.LocalServer;
import io.vertx.core.Vertx;
import io.vertx.core.http.HttpServer;
import io.vertx.core.http.HttpServerRequest;
import io.vertx.ext.web.Router;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.time.Clock;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.function.BiConsumer;

/**
 * Routes behind the gate on a free port, an issuer of tokens, and requests with and without one.
 */
public final class GuardedServer implements AutoCloseable {
  private final Vertx vertx = Vertx.vertx();
  private final TestIssuer issuer = new TestIssuer();
  private final HttpClient client = HttpClient.newHttpClient();
  private final Router router = Router.router(vertx);
  private final HttpServer server;
  private final Clock clock;

  /**
   * A server that has no routes yet.
   *
   * @param trail told of every request
   * @param clock at whose time tokens are given and judged
   */
  public GuardedServer(AuditTrail trail, Clock clock) throws Exception {
    this.clock = clock;
    new VisitBook(vertx, trail, clock).register(router);
    new Gate(vertx, issuer.mode(), clock).register(router);
    server = LocalServer.of(vertx, router);
  }

  /** What handlers run on. */
  public Vertx vertx() {
    return vertx;
  }

  /** Adds a route. */
  public void route(String path, BiConsumer<HttpServerRequest, Visit> handler) {
    router.route(path).handler(context -> handler.accept(context.request(), Visit.of(context)));
  }

  /** A token of a program. */
  public String token(String program, String scopes) {
    return issuer.token(program, scopes, clock.instant());
  }

  /** A token of a person with one role. */
  public String tokenOfPerson(String role) {
    return TestIssuer.sign(
        JWSAlgorithm.RS256,
        TestIssuer.rsa(),
        JOSEObjectType.JWT,
        issuer
            .claims("app", "openid", clock.instant())
            .subject("staff-1")
            .claim("realm", Map.of("roles", List.of(role)))
            .build());
  }

  /**
   * Sends a request with a body.
   *
   * @param token empty for none
   * @param headers further ones, each name before its value
   */
  public HttpResponse<String> ask(
      String method, String path, String type, String body, String token, String... headers)
      throws Exception {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + server.actualPort() + path))
            .header("Content-Type", type)
            .method(method, BodyPublishers.ofString(body));
    if (!token.isEmpty()) {
      request.header("Authorization", "Bearer " + token);
    }
    if (headers.length > 0) {
      request.headers(headers);
    }
    return client.send(request.build(), BodyHandlers.ofString());
  }

  @Override
  public void close() throws Exception {
    issuer.close();
    vertx.close().toCompletionStage().toCompletableFuture().get(10, TimeUnit.SECONDS);
  }
}
