package indwell.web.access;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.access.OwnScope;
import indwell.adapter.store.memory.MemoryFacts;
import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.Audits;
import indwell.contract.HeldTrail;
import indwell.domain.rule.RuleSettings;
import indwell.domain.time.FacilityCalendar;
import indwell.port.AuditEntry;
import indwell.usecase.Facility;
import indwell.usecase.KeepFacts;
import indwell.usecase.ReviewCandidates;
import indwell.web.LocalServer;
import indwell.web.surveillance.SurveillanceEndpoint;
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
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * The row of facts is written with them, and only that of a request that wrote none comes after.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class AuditedActsOverHttpTest {
  private static final Instant NOW = Instant.parse("2026-03-27T12:00:00Z");
  private static final Clock CLOCK = Clock.fixed(NOW, ZoneOffset.UTC);

  private static final String FACTS = "{\"confirmedCauti\":1}";

  private final Vertx vertx = Vertx.vertx();
  private final TestIssuer issuer = new TestIssuer();
  private final MemoryStore store = new MemoryStore();
  private final HeldTrail trail = new HeldTrail();
  private final HttpClient client = HttpClient.newHttpClient();
  private HttpServer server;

  @BeforeEach
  void start() throws Exception {
    Facility facility =
        new Facility(
            new FacilityCalendar(ZoneOffset.UTC),
            LocalTime.MIDNIGHT,
            RuleSettings.DEFAULTS,
            Map.of());
    SurveillanceEndpoint surveillance =
        new SurveillanceEndpoint(
            vertx,
            new KeepFacts(
                new MemoryFacts(
                    rows ->
                        store.write(
                            tx -> {
                              tx.audit(rows);
                              return true;
                            })),
                facility),
            new ReviewCandidates(store, facility),
            CLOCK);
    Router router = Router.router(vertx);
    new VisitBook(vertx, trail, CLOCK).register(router);
    new Gate(vertx, issuer.mode(), CLOCK).register(router);
    router
        .route("/surveillance/*")
        .handler(context -> surveillance.handle(context.request(), Visit.of(context)));
    server = LocalServer.of(vertx, router);
  }

  @AfterEach
  void stop() throws Exception {
    issuer.close();
    vertx.close().toCompletionStage().toCompletableFuture().get(10, TimeUnit.SECONDS);
  }

  private HttpResponse<String> put(String body, String... headers) throws Exception {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(
                URI.create("http://127.0.0.1:" + server.actualPort() + "/surveillance/ICU/2026-02"))
            .header("Content-Type", "application/json")
            .header(
                "Authorization",
                "Bearer " + issuer.token("reporter", OwnScope.SURVEILLANCE_WRITE.uri(), NOW))
            .PUT(BodyPublishers.ofString(body));
    if (headers.length > 0) {
      request.headers(headers);
    }
    return client.send(request.build(), BodyHandlers.ofString());
  }

  @Test
  void facts_that_are_taken_have_their_row_with_them_and_none_comes_after() throws Exception {
    assertThat(put(FACTS).statusCode()).isEqualTo(201);
    AuditEntry row = Audits.all(store).get(0);
    assertThat(row.status()).isEqualTo(201);
    assertThat(row.at()).isEqualTo(NOW);
    assertThat(row.origin().agent().client()).isEqualTo("reporter");
    assertThat(row.origin().place()).isEqualTo("PUT /surveillance/{}/{}");
    assertThat(row.patient()).isEqualTo(Optional.empty());
    assertThat(Audits.all(store)).hasSize(1);
    assertThat(trail.isEmpty()).isTrue();
  }

  @Test
  void a_request_that_changes_nothing_leaves_its_row_by_itself() throws Exception {
    put(FACTS);
    assertThat(put(FACTS).statusCode()).isEqualTo(200);
    assertThat(trail.next().rows()).extracting(AuditEntry::status).containsExactly(200);
    assertThat(put(FACTS, "If-Match", "W/\"7\"").statusCode()).isEqualTo(412);
    assertThat(trail.next().rows()).extracting(AuditEntry::status).containsExactly(412);
    assertThat(Audits.all(store)).hasSize(1);
  }
}
