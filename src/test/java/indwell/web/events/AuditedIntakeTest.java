package indwell.web.events;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.access.OwnScope;
import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.Audits;
import indwell.contract.ForwardingStore;
import indwell.contract.HeldTrail;
import indwell.domain.event.EventKey;
import indwell.fhir.map.MappingContext;
import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Interaction;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.port.StoreUnavailable;
import indwell.usecase.RecordEvents;
import indwell.usecase.SharedCommits;
import indwell.usecase.audit.AuditTrail;
import indwell.web.access.GuardedServer;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.function.Function;
import java.util.stream.IntStream;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Every event that is sent leaves a row, in the transaction that takes it where one does. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class AuditedIntakeTest {
  private static final String JSON = "application/json";
  private static final String NDJSON = "application/x-ndjson";

  /** A resource with this weight is found faulty. */
  private static final String FAULTY = "73.31";

  private final MemoryStore store = new MemoryStore();
  private volatile boolean auditFails;
  private GuardedServer server;

  @TempDir Path spool;

  /** Events can be written, their rows cannot. */
  private final class WithoutRows extends ForwardingStore {
    private WithoutRows() {
      super(store);
    }

    @Override
    public <T> T write(Function<Writing, T> work) {
      return super.write(
          tx -> {
            T result = work.apply(tx);
            if (auditFails) {
              throw new StoreUnavailable("no room for the rows", new IllegalStateException());
            }
            return result;
          });
    }
  }

  private static final class FindsOneFault implements ProfileValidator {
    @Override
    public List<Finding> validate(byte[] json, List<String> profiles) {
      return new String(json, StandardCharsets.UTF_8).contains(FAULTY)
          ? List.of(new Finding(Severity.ERROR, "value", "Observation.value", "Planted."))
          : List.of();
    }

    @Override
    public boolean knows(String profile) {
      return true;
    }

    @Override
    public boolean ready() {
      return true;
    }
  }

  @BeforeEach
  void start() throws Exception {
    start(Audits.into(store));
  }

  private void start(AuditTrail trail) throws Exception {
    server = new GuardedServer(trail, IntakeServer.CLOCK);
    ClinicalStore written = new WithoutRows();
    RecordEvents events =
        new RecordEvents(
            written, new FindsOneFault(), new MappingContext(ZoneId.of("Europe/Berlin")));
    EventIntake intake =
        new EventIntake(
            server.vertx(),
            new SharedCommits(events)::record,
            IntakeServer.CLOCK,
            EventLimits.DEFAULT,
            spool);
    server.route("/events", intake::handle);
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
  }

  private static String event(String id, int version, String details) {
    return ("{\"source\":\"s\",\"eventId\":\"%s\",\"version\":%d,\"type\":\"weight-measured\","
            + "\"occurredAt\":\"2026-03-10T10:00:00Z\","
            + "\"patient\":{\"system\":\"urn:test:mrn\",\"value\":\"p1\"},\"details\":{%s}}")
        .formatted(id, version, details);
  }

  private static String weight(String id, String kg) {
    return event(id, 1, "\"kg\":" + kg);
  }

  private HttpResponse<String> send(String type, String body) throws Exception {
    String token = server.token("ward", OwnScope.EVENTS_WRITE.uri());
    return server.ask("POST", "/events", type, body, token);
  }

  private List<AuditEntry> rows() {
    return Audits.all(store);
  }

  @Test
  void an_event_leaves_one_row_whatever_becomes_of_it() throws Exception {
    send(JSON, event("e", 2, "\"kg\":70"));
    send(JSON, event("e", 2, "\"kg\":70"));
    send(JSON, event("e", 2, "\"kg\":71"));
    send(JSON, event("e", 1, "\"kg\":70"));
    send(JSON, event("e", 3, "\"kg\":-1"));
    send(JSON, event("e", 3, "\"kg\":" + FAULTY));
    send(
        JSON,
        event("e", 4, "\"kg\":70")
            .replace("\"version\"", "\"status\":\"entered-in-error\",\"version\"")
            .replace(",\"details\":{\"kg\":70}", "")
            .replace("\"occurredAt\":\"2026-03-10T10:00:00Z\",", ""));

    assertThat(rows())
        .extracting(AuditEntry::status)
        .containsExactly(201, 200, 409, 200, 422, 500, 201);
    assertThat(rows())
        .extracting(AuditEntry::interaction)
        .containsExactly(
            Interaction.UPDATE,
            Interaction.UPDATE,
            Interaction.UPDATE,
            Interaction.CREATE,
            Interaction.CREATE,
            Interaction.UPDATE,
            Interaction.DELETE);
    assertThat(rows().get(4).entity()).isEmpty();
    assertThat(rows().stream().map(AuditEntry::entity).distinct()).hasSize(2);
    assertThat(rows().stream().map(AuditEntry::patient).flatMap(Optional::stream).distinct())
        .hasSize(1);
    assertThat(rows())
        .allMatch(row -> row.origin().agent().client().equals("ward"))
        .allMatch(row -> row.origin().place().equals("POST /events"));
  }

  @Test
  void so_do_the_events_of_an_array_and_of_a_stream() throws Exception {
    String events =
        String.join(
            ",", weight("a", "70"), weight("b", "-1"), weight("c", FAULTY), weight("d", "71"));
    send(JSON, "[" + events + "]");
    assertThat(rows()).extracting(AuditEntry::status).containsExactlyInAnyOrder(201, 422, 500, 201);

    send(NDJSON, String.join("\n", weight("e", "70"), "nothing", weight("a", "70")) + "\n");
    Awaitility.await().atMost(Duration.ofSeconds(10)).until(() -> rows().size() == 7);
    assertThat(rows().subList(4, 7))
        .extracting(AuditEntry::status)
        .containsExactlyInAnyOrder(201, 400, 200);
  }

  /** The stream stays open: what is answered is answered while it goes on. */
  @Test
  void a_line_that_is_refused_is_answered_after_its_row_is_durable() throws Exception {
    HeldTrail trail = new HeldTrail();
    trail.hold();
    server.close();
    start(trail);
    CompletableFuture<HttpResponse<String>> answer =
        CompletableFuture.supplyAsync(
            () -> {
              try {
                return send(NDJSON, weight("a", "70") + "\nnothing\n");
              } catch (Exception e) {
                throw new IllegalStateException(e);
              }
            });

    HeldTrail.Handed handed = trail.next();
    assertThat(handed.rows()).extracting(AuditEntry::status).containsExactly(400);
    assertThat(answer).isNotDone();
    // A refusal is answered in any case.
    handed.kept().complete(false);

    assertThat(answer.get().body().lines()).hasSize(2);
    assertThat(answer.get().body()).contains("recorded", "refused");
  }

  @Test
  void a_body_that_holds_no_event_leaves_one_row() throws Exception {
    send(JSON, "[]");
    send(JSON, "nothing");
    send("text/plain", "nothing");

    assertThat(rows()).extracting(AuditEntry::status).containsExactly(200, 400, 415);
  }

  @Test
  void whoever_is_refused_leaves_a_row_and_no_event_of_theirs_does() throws Exception {
    server.ask("POST", "/events", JSON, weight("a", "70"), "");

    assertThat(rows()).hasSize(1);
    assertThat(rows().get(0).reason()).contains("IND-0401");
    assertThat(rows().get(0).entity()).isEmpty();
  }

  @Test
  void an_event_whose_row_cannot_be_written_is_not_recorded() throws Exception {
    auditFails = true;
    assertThat(send(JSON, weight("a", "70")).statusCode()).isEqualTo(503);
    assertThat(store.<Boolean>read(state -> state.versionsOf(new EventKey("s", "a")).isEmpty()))
        .isTrue();

    auditFails = false;
    assertThat(send(JSON, weight("a", "70")).statusCode()).isEqualTo(201);
    assertThat(rows()).extracting(AuditEntry::status).containsExactly(503, 201);
  }

  @Test
  void no_acknowledged_event_is_without_a_row() throws Exception {
    List<EventKey> keys =
        IntStream.range(0, 200).mapToObj(number -> new EventKey("s", "n" + number)).toList();
    send(
        NDJSON,
        String.join("\n", keys.stream().map(key -> weight(key.eventId(), "70")).toList()) + "\n");

    assertThat(Audits.without(store, keys)).isEmpty();
    assertThat(Audits.without(store, List.of(new EventKey("s", "never-sent")))).hasSize(1);
  }
}
