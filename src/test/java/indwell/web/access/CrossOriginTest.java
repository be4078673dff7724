package indwell.web.access;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.web.LocalServer;
import indwell.web.RawHttp;
import io.vertx.core.Vertx;
import io.vertx.core.http.HttpServer;
import io.vertx.ext.web.Router;
import java.time.Clock;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * What a browser is told about pages of other sites (WHATWG Fetch, section 3.3), and what is done.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class CrossOriginTest {
  private static final String LISTED = "https://ward.example";

  private final Vertx vertx = Vertx.vertx();
  private final List<String> done = Collections.synchronizedList(new ArrayList<>());
  private HttpServer server;

  private void start(String... origins) throws Exception {
    Router router = Router.router(vertx);
    router
        .route("/*")
        .handler(
            context -> {
              done.add(context.request().method() + " " + context.request().path());
              context.response().end("done");
            });
    new Gate(vertx, new AccessMode.Development(), Clock.systemUTC()).register(router);
    new CrossOrigin(vertx, ListedOrigins.of(List.of(origins))).register(router);
    server = LocalServer.of(vertx, router);
  }

  @AfterEach
  void stop() throws Exception {
    vertx.close().toCompletionStage().toCompletableFuture().get(10, TimeUnit.SECONDS);
  }

  private RawHttp.Answer ask(String method, String path, String... headers) throws Exception {
    try (RawHttp client = new RawHttp(server.actualPort())) {
      String lines = headers.length == 0 ? "" : String.join("\r\n", headers) + "\r\n";
      String host = "Host: localhost:" + server.actualPort() + "\r\n";
      return client
          .send(method + " " + path + " HTTP/1.1\r\n" + host + lines + "Content-Length: 0\r\n\r\n")
          .answer();
    }
  }

  private RawHttp.Answer preflight(String path, String origin) throws Exception {
    return ask(
        "OPTIONS",
        path,
        "Origin: " + origin,
        "Access-Control-Request-Method: PUT",
        "Access-Control-Request-Headers: authorization,content-type");
  }

  private static void assertSilent(RawHttp.Answer answer) {
    assertThat(answer.head().headers().keySet()).noneMatch(name -> name.startsWith("access-contr"));
  }

  @Test
  void a_listed_origin_may_ask_and_is_named() throws Exception {
    start(LISTED, "http://localhost:3000");

    RawHttp.Answer answer = preflight("/fhir/Location/A", LISTED);
    assertThat(answer.status()).isEqualTo(204);
    assertThat(answer.head().header("Access-Control-Allow-Origin")).isEqualTo(LISTED);
    assertThat(answer.head().header("Access-Control-Allow-Methods")).contains("PUT", "DELETE");
    assertThat(answer.head().header("Access-Control-Allow-Headers"))
        .contains("Authorization", "Content-Type", "Prefer");
    assertThat(answer.head().header("Vary")).contains("Origin");
    assertThat(done).isEmpty();

    answer = ask("PUT", "/fhir/Location/A", "Origin: " + LISTED);
    assertThat(answer.body()).isEqualTo("done");
    assertThat(answer.head().header("Access-Control-Allow-Origin")).isEqualTo(LISTED);
    assertThat(answer.head().header("Access-Control-Expose-Headers")).contains("ETag", "Location");
    assertThat(done).containsExactly("PUT /fhir/Location/A");
  }

  /** Fetch: with credentials a wildcard means nothing; without them no cookie is sent at all. */
  @Test
  void no_answer_lets_cookies_in_or_names_all() throws Exception {
    start(LISTED);

    for (RawHttp.Answer answer :
        List.of(preflight("/events", LISTED), ask("GET", "/fhir/metadata", "Origin: " + LISTED))) {
      assertThat(answer.head().headers()).doesNotContainKey("access-control-allow-credentials");
      assertThat(answer.head().headers().values()).doesNotContain("*");
    }
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "https://elsewhere.example",
        "null",
        "http://ward.example",
        "https://ward.example:8443",
        "https://ward.example.elsewhere.example",
        "https://ward.example, https://elsewhere.example",
        "https://WARD.example"
      })
  void another_origin_gets_no_header_and_writes_nothing(String origin) throws Exception {
    start(LISTED);

    assertSilent(preflight("/events", origin));
    assertSilent(ask("GET", "/fhir/Patient", "Origin: " + origin));
    done.clear();
    for (String path : List.of("/events", "/fhir/Patient/$validate", "/surveillance/A/2026-01")) {
      RawHttp.Answer answer = ask("POST", path, "Origin: " + origin, "Content-Type: text/plain");
      assertThat(answer.status()).isEqualTo(403);
      assertThat(answer.body()).contains("IND-0452", "INDWELL_CORS_ORIGINS");
      assertThat(answer.head().header("Vary")).contains("Origin");
      assertSilent(answer);
    }
    assertThat(done).isEmpty();
  }

  @Test
  void with_none_listed_all_others_are_refused() throws Exception {
    start();

    assertSilent(preflight("/events", LISTED));
    done.clear();
    assertThat(ask("POST", "/publishing/pause", "Origin: " + LISTED).status()).isEqualTo(403);
    assertThat(ask("DELETE", "/fhir/Procedure/x", "Origin: " + LISTED).status()).isEqualTo(403);
    assertThat(done).isEmpty();
    assertThat(ask("POST", "/events").head().headers()).doesNotContainKey("vary");
  }

  @Test
  void what_no_browser_sends_and_pages_of_its_own_are_not_asked() throws Exception {
    start(LISTED);

    RawHttp.Answer program = ask("POST", "/events");
    assertThat(program.body()).isEqualTo("done");
    assertThat(program.head().header("Vary")).isEqualTo("Origin");
    String own = "Origin: http://localhost:" + server.actualPort();
    assertThat(ask("POST", "/events", own).body()).isEqualTo("done");
    assertThat(ask("POST", "/wards/A/record", own).body()).isEqualTo("done");
  }

  @Test
  void pages_for_people_are_for_no_other_page() throws Exception {
    start(LISTED);

    assertSilent(ask("GET", "/wards/A", "Origin: " + LISTED));
    assertSilent(preflight("/wards/A/record", LISTED));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "*",
        "null",
        "ward.example",
        "https://*",
        "https://ward.example/",
        "https://ward.example/x",
        "https://a@ward.example",
        "file://ward",
        "https://",
        "https://ward.example?x",
        ""
      })
  void what_is_no_origin_is_refused_at_the_start(String origin) {
    assertThatThrownBy(() -> ListedOrigins.of(List.of(origin)))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("Setting indwell.cors.origins has " + origin + "; expected");
  }
}
