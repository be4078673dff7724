package indwell.web.access;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.access.OwnScope;
import indwell.web.LocalServer;
import io.vertx.core.Vertx;
import io.vertx.core.http.HttpServer;
import io.vertx.ext.web.Router;
import java.net.InetAddress;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What every request passes before anything else looks at it. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class GateTest {
  private final Vertx vertx = Vertx.vertx();
  private final TestIssuer issuer = new TestIssuer();
  private final HttpClient client = HttpClient.newHttpClient();
  private HttpServer server;

  /** Behind the gate, something that says how much of a body it got, and who sent it. */
  private void start(AccessMode mode) throws Exception {
    Router router = Router.router(vertx);
    Clock clock = Clock.systemUTC();
    new SmartConfiguration(vertx, mode).register(router);
    router
        .route("/*")
        .handler(
            context ->
                context
                    .request()
                    .body()
                    .onSuccess(
                        body ->
                            context
                                .response()
                                .end(Callers.of(context).owner() + "|" + body.length())));
    // Last, as it may happen: its place is first all the same.
    new Gate(vertx, mode, clock).register(router);
    server = LocalServer.of(vertx, router);
  }

  @AfterEach
  void stop() throws Exception {
    issuer.close();
    vertx.close().toCompletionStage().toCompletableFuture().get(10, TimeUnit.SECONDS);
  }

  private String answerTo(String host, String path) throws Exception {
    try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), server.actualPort())) {
      String request = "GET " + path + " HTTP/1.1\r\n" + host + "Connection: close\r\n\r\n";
      socket.getOutputStream().write(request.getBytes(StandardCharsets.US_ASCII));
      return new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    }
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "localhost",
        "localhost:8080",
        "LOCALHOST",
        "127.0.0.1",
        "127.0.0.1:1",
        "127.8.9.10",
        "[::1]",
        "[::1]:80"
      })
  void in_development_mode_names_of_this_machine_are_answered(String host) throws Exception {
    start(new AccessMode.Development());

    assertThat(answerTo("Host: " + host + "\r\n", "/fhir/Patient/x")).startsWith("HTTP/1.1 200 ");
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "ward.example",
        "ward.example:8080",
        "localhost.ward.example",
        "127.0.0.1.ward.example",
        "127.0.0.1@ward.example",
        "ward.example/localhost",
        "10.0.0.7",
        "0.0.0.0",
        "[::2]",
        "[::ffff:10.0.0.7]",
        "localhost\r\nHost: ward.example"
      })
  void in_development_mode_no_other_name_is_answered(String host) throws Exception {
    start(new AccessMode.Development());

    for (String path : new String[] {"/fhir/metadata", "/events", "/q/health", "/"}) {
      String answer = answerTo("Host: " + host + "\r\n", path);
      assertThat(answer).matches("(?s)HTTP/1.1 (421|400) .*");
      assertThat(answer).doesNotContain("|0");
    }
  }

  @Test
  void the_refusal_of_a_name_has_the_shape_of_errors_there() throws Exception {
    start(new AccessMode.Development());

    assertThat(answerTo("Host: ward.example\r\n", "/fhir/Patient/x"))
        .startsWith("HTTP/1.1 421 ")
        .contains("OperationOutcome", "IND-0400", "application/fhir+json");
    assertThat(answerTo("Host: ward.example\r\n", "/events"))
        .contains("\"outcome\":\"refused\"", "IND-0400");
    assertThat(answerTo("Host: ward.example\r\n", "/surveillance/A/2026-03")).contains("IND-0400");
    assertThat(answerTo("Host: ward.example\r\n", "/wards/A"))
        .contains("IND-0400: Host \"ward.example\" is not this machine;");
  }

  private HttpResponse<String> ask(String path, String token, String body) throws Exception {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + server.actualPort() + path))
            .POST(BodyPublishers.ofString(body));
    if (!token.isEmpty()) {
      request.header("Authorization", "Bearer " + token);
    }
    return client.send(request.build(), BodyHandlers.ofString());
  }

  @Test
  void with_an_issuer_a_token_says_who_asks_and_the_whole_body_goes_on() throws Exception {
    start(issuer.mode());
    String token =
        issuer.token("client-7", OwnScope.EVENTS_WRITE.uri(), Clock.systemUTC().instant());
    String body = "x".repeat(3_000_000);
    String known = issuer.url() + " client-7|3000000";

    assertThat(ask("/events", token, body).body()).isEqualTo(known);
    // It is remembered now.
    issuer.away(true);
    assertThat(ask("/events", token, body).body()).isEqualTo(known);
    assertThat(ask("/events", "", body).body()).isEqualTo("nobody|3000000");
    assertThat(ask("/events", token + "x", body).body()).isEqualTo("nobody|3000000");
  }

  @Test
  void with_an_issuer_pages_are_for_nobody_without_a_login() throws Exception {
    start(issuer.mode());
    String token = issuer.token("client-7", "system/*.cruds", Clock.systemUTC().instant());

    for (String path :
        new String[] {"/", "/wards/A", "/nothing", "/fhirx", "/q/health/..", "/q/metrics"}) {
      assertThat(ask(path, token, "").statusCode()).as(path).isEqualTo(401);
      assertThat(answerTo("Host: a\r\n", path))
          .startsWith("HTTP/1.1 303 ")
          .containsIgnoringCase("\nLocation: /login?to=%2F");
    }
  }

  @Test
  void with_an_issuer_a_client_that_asks_too_often_waits_and_the_others_do_not() throws Exception {
    start(issuer.mode(5));
    String often = issuer.token("often", "", Clock.systemUTC().instant());
    String seldom = issuer.token("seldom", "", Clock.systemUTC().instant());
    assertThat(ask("/fhir/Patient/x", seldom, "").statusCode()).isEqualTo(200);
    HttpResponse<String> answer = ask("/fhir/Patient/x", often, "");
    for (int i = 0; i < 500 && answer.statusCode() == 200; i++) {
      answer = ask("/fhir/Patient/x", often, "");
    }

    assertThat(answer.statusCode()).isEqualTo(429);
    assertThat(Integer.parseInt(answer.headers().firstValue("Retry-After").orElseThrow()))
        .isBetween(1, 2);
    assertThat(answer.body()).contains("OperationOutcome", "IND-0407", "5 times in 10 s");
    assertThat(ask("/fhir/Patient/x", seldom, "").statusCode()).isEqualTo(200);
  }

  @Test
  void clients_are_told_where_tokens_are_given() throws Exception {
    start(issuer.mode());

    for (String path :
        new String[] {
          "/.well-known/smart-configuration", "/fhir/.well-known/smart-configuration"
        }) {
      assertThat(ask(path, "", "").body())
          .contains(
              "\"issuer\":\"" + issuer.url() + "\"",
              "\"token_endpoint\":\"" + issuer.url() + "/token\"",
              "\"S256\"",
              OwnScope.EVENTS_WRITE.uri());
    }
  }

  @Test
  void while_the_issuer_is_away_clients_are_told_to_come_again() throws Exception {
    start(issuer.mode());
    issuer.away(true);

    HttpResponse<String> answer = ask("/fhir/.well-known/smart-configuration", "", "");

    assertThat(answer.statusCode()).isEqualTo(503);
    assertThat(answer.headers().firstValue("Retry-After")).isPresent();
    assertThat(answer.body()).contains("IND-0405", "OperationOutcome");
  }

  @Test
  void every_answer_has_the_headers_that_protect_it() throws Exception {
    start(new AccessMode.Development());

    for (String host : new String[] {"localhost", "ward.example"}) {
      assertThat(answerTo("Host: " + host + "\r\n", "/anything").toLowerCase())
          .contains(
              "x-content-type-options: nosniff",
              "referrer-policy: no-referrer",
              "cache-control: no-store");
    }
  }
}
