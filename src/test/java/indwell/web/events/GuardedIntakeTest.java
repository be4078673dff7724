package indwell.web.events;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.access.OwnScope;
import indwell.adapter.store.memory.MemoryFacts;
import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.PlainFacility;
import indwell.usecase.Facility;
import indwell.usecase.KeepFacts;
import indwell.usecase.ReviewCandidates;
import indwell.usecase.audit.AuditTrail;
import indwell.web.access.GuardedServer;
import indwell.web.surveillance.SurveillanceEndpoint;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Who may send and ask outside FHIR, once an issuer is configured. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class GuardedIntakeTest {
  private static final String EVENT =
      "{\"source\":\"s\",\"eventId\":\"e\",\"type\":\"weight-measured\","
          + "\"occurredAt\":\"2026-03-10T10:00:00Z\","
          + "\"patient\":{\"system\":\"urn:test:mrn\",\"value\":\"p1\"},\"details\":{\"kg\":70}}";

  private final AtomicInteger recorded = new AtomicInteger();
  private GuardedServer server;

  @TempDir Path spool;

  @BeforeEach
  void start() throws Exception {
    server = new GuardedServer(AuditTrail.NONE, IntakeServer.CLOCK);
    EventIntake intake =
        new EventIntake(
            server.vertx(),
            events ->
                events.stream()
                    .peek(event -> recorded.incrementAndGet())
                    .map(event -> IntakeServer.accept(event.reading(), event.at()))
                    .toList(),
            IntakeServer.CLOCK,
            EventLimits.DEFAULT,
            spool);
    Facility facility = PlainFacility.in(ZoneId.of("Europe/Berlin"));
    SurveillanceEndpoint surveillance =
        new SurveillanceEndpoint(
            server.vertx(),
            new KeepFacts(new MemoryFacts(), facility),
            new ReviewCandidates(new MemoryStore(), facility),
            IntakeServer.CLOCK);
    server.route("/events", intake::handle);
    server.route("/surveillance/*", surveillance::handle);
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
  }

  @Test
  void events_are_taken_from_whoever_has_the_scope_and_from_nobody_else() throws Exception {
    String with = server.token("ward", OwnScope.EVENTS_WRITE.uri());
    String without = server.token("ward", "system/*.cruds " + OwnScope.SURVEILLANCE_WRITE.uri());

    for (String type : List.of("application/json", "application/x-ndjson")) {
      HttpResponse<String> nobody = server.ask("POST", "/events", type, EVENT, "");
      assertThat(nobody.statusCode()).isEqualTo(401);
      assertThat(nobody.headers().firstValue("WWW-Authenticate")).isPresent();
      assertThat(nobody.body()).contains("\"outcome\":\"refused\"", "IND-0401");

      HttpResponse<String> lacking = server.ask("POST", "/events", type, EVENT, without);
      assertThat(lacking.statusCode()).isEqualTo(403);
      assertThat(lacking.headers().firstValue("WWW-Authenticate").orElse(""))
          .contains("insufficient_scope", OwnScope.EVENTS_WRITE.uri());
      assertThat(lacking.body()).contains("IND-0403", OwnScope.EVENTS_WRITE.uri());

      int before = recorded.get();
      assertThat(server.ask("POST", "/events", type, EVENT, with).body()).contains("recorded");
      assertThat(recorded.get()).isEqualTo(before + 1);
    }
  }

  /** Method, address, and the scope that it needs. */
  static Stream<List<String>> surveillance() {
    String reads = OwnScope.SURVEILLANCE_READ.uri();
    String writes = OwnScope.SURVEILLANCE_WRITE.uri();
    return Stream.of(
        List.of("GET", "/surveillance/A/2026-02", reads),
        List.of("GET", "/surveillance/A/2026-02/versions", reads),
        List.of("POST", "/surveillance/candidates", reads),
        List.of("PUT", "/surveillance/A/2026-02", writes),
        List.of("POST", "/surveillance/", writes),
        List.of("POST", "/surveillance/candidates/", writes));
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("surveillance")
  void facts_are_for_whoever_has_the_scope_or_the_role(List<String> row) throws Exception {
    String needed = row.get(2);
    String other =
        needed.equals(OwnScope.SURVEILLANCE_READ.uri())
            ? OwnScope.SURVEILLANCE_WRITE.uri()
            : OwnScope.SURVEILLANCE_READ.uri();
    String person = server.tokenOfPerson("preventionist");

    assertThat(status(row, "")).isEqualTo(401);
    assertThat(status(row, server.token("c", "system/*.cruds " + other))).isEqualTo(403);
    assertThat(status(row, server.tokenOfPerson("nurse"))).isEqualTo(403);
    assertThat(status(row, server.token("c", needed))).isNotIn(401, 403, 500);
    assertThat(status(row, person)).isNotIn(401, 403, 500);
  }

  private int status(List<String> row, String token) throws Exception {
    return server.ask(row.get(0), row.get(1), "application/json", "{}", token).statusCode();
  }
}
