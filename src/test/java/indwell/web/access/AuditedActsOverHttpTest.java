package indwell.web.access;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.access.OwnScope;
import indwell.adapter.store.memory.MemoryFacts;
import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.Audits;
import indwell.contract.HeldTrail;
import indwell.contract.PlainFacility;
import indwell.port.AuditEntry;
import indwell.usecase.Facility;
import indwell.usecase.KeepFacts;
import indwell.usecase.ReviewCandidates;
import indwell.web.surveillance.SurveillanceEndpoint;
import java.net.http.HttpResponse;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
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

  private final MemoryStore store = new MemoryStore();
  private final HeldTrail trail = new HeldTrail();
  private GuardedServer server;

  @BeforeEach
  void start() throws Exception {
    server = new GuardedServer(trail, CLOCK);
    Facility facility = PlainFacility.in(ZoneOffset.UTC);
    SurveillanceEndpoint surveillance =
        new SurveillanceEndpoint(
            server.vertx(),
            new KeepFacts(new MemoryFacts(this::add), facility),
            new ReviewCandidates(store, facility),
            CLOCK);
    server.route("/surveillance/*", surveillance::handle);
  }

  private void add(List<AuditEntry> rows) {
    store.write(
        tx -> {
          tx.audit(rows);
          return true;
        });
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
  }

  private HttpResponse<String> put(String body, String... headers) throws Exception {
    String token = server.token("reporter", OwnScope.SURVEILLANCE_WRITE.uri());
    return server.ask("PUT", "/surveillance/ICU/2026-02", "application/json", body, token, headers);
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
