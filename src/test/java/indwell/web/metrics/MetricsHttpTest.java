package indwell.web.metrics;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.access.OwnScope;
import indwell.web.LocalServer;
import indwell.web.access.AccessMode;
import indwell.web.access.Gate;
import indwell.web.access.TestIssuer;
import io.vertx.core.Vertx;
import io.vertx.core.http.HttpServer;
import io.vertx.ext.web.Router;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.time.Clock;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Who sees the figures. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class MetricsHttpTest {
  private final Vertx vertx = Vertx.vertx();
  private final TestIssuer issuer = new TestIssuer();
  private final HttpClient client = HttpClient.newHttpClient();
  private HttpServer server;

  private void start(AccessMode mode, Figures figures) throws Exception {
    Router router = Router.router(vertx);
    new Gate(vertx, mode, Clock.systemUTC()).register(router);
    new MetricsRoute(vertx, figures).register(router);
    server = LocalServer.of(vertx, router);
  }

  @AfterEach
  void stop() throws Exception {
    issuer.close();
    vertx.close().toCompletionStage().toCompletableFuture().get(10, TimeUnit.SECONDS);
  }

  private HttpResponse<String> ask(String method, String token) throws Exception {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + server.actualPort() + "/metrics"))
            .method(method, BodyPublishers.noBody());
    if (!token.isEmpty()) {
      request.header("Authorization", "Bearer " + token);
    }
    return client.send(request.build(), BodyHandlers.ofString());
  }

  @Test
  void they_are_for_the_scope_alone() throws Exception {
    start(issuer.mode(), () -> "indwell_x 1\n");
    String other = "system/*.cruds " + OwnScope.EVENTS_WRITE.uri();

    assertThat(ask("GET", "").statusCode()).isEqualTo(401);
    HttpResponse<String> lacking =
        ask("GET", issuer.token("c", other, Clock.systemUTC().instant()));
    assertThat(lacking.statusCode()).isEqualTo(403);
    assertThat(lacking.body()).contains("IND-0403", "https://indwell.example/scope/metrics");
    HttpResponse<String> with =
        ask("GET", issuer.token("c", OwnScope.METRICS.uri(), Clock.systemUTC().instant()));
    assertThat(with.statusCode()).isEqualTo(200);
    assertThat(with.body()).isEqualTo("indwell_x 1\n");
    assertThat(with.headers().firstValue("Content-Type")).hasValue(Figures.CONTENT_TYPE);
  }

  @Test
  void another_method_and_a_fault_are_told() throws Exception {
    start(
        new AccessMode.Development(),
        () -> {
          throw new IllegalStateException("Patient P-1");
        });

    assertThat(ask("POST", "").statusCode()).isEqualTo(405);
    HttpResponse<String> fault = ask("GET", "");
    assertThat(fault.statusCode()).isEqualTo(500);
    assertThat(fault.body()).contains("IND-0090").doesNotContain("P-1");
  }
}
