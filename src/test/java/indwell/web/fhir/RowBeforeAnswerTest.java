package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.HeldTrail;
import indwell.contract.HeldTrail.Handed;
import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Outcome;
import indwell.usecase.audit.AuditTrail;
import indwell.web.access.TestIssuer;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionStage;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Nothing is disclosed before the row that says so is durable. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class RowBeforeAnswerTest {
  private final HeldTrail trail = new HeldTrail();
  private final TestIssuer issuer = new TestIssuer();
  private final MemoryStore store = new MemoryStore();
  private final HttpClient client = HttpClient.newHttpClient();
  private FhirServer server;

  @BeforeEach
  void start() throws Exception {
    server = new FhirServer(issuer.mode(), store, trail);
    server.recordStay();
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
    issuer.close();
  }

  private HttpRequest.Builder request(String path) {
    return HttpRequest.newBuilder(URI.create(server.base() + path))
        .header("Authorization", "Bearer " + issuer.token("ehr", AuditedServer.ALL, server.now()));
  }

  private CompletableFuture<HttpResponse<String>> ask(HttpRequest.Builder request) {
    return client.sendAsync(request.build(), BodyHandlers.ofString());
  }

  private HttpResponse<String> now(String path) throws Exception {
    return client.send(request(path).build(), BodyHandlers.ofString());
  }

  private String patient() throws Exception {
    return Answers.read(now("/Patient").body()).at("/entry/0/resource/id").asText();
  }

  /** The address of a file of an export that is finished. */
  private String file() throws Exception {
    HttpResponse<String> ordered =
        client.send(
            request("/$export?_type=Patient").header("Prefer", "respond-async").build(),
            BodyHandlers.ofString());
    String status =
        ordered
            .headers()
            .firstValue("Content-Location")
            .orElseThrow()
            .substring(server.base().length());
    String manifest =
        Awaitility.await()
            .until(
                () -> {
                  server.advance(java.time.Duration.ofSeconds(30));
                  return now(status);
                },
                answer -> answer.statusCode() == 200)
            .body();
    return Answers.read(manifest).at("/output/0/url").asText().substring(server.base().length());
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "/Patient/{id}",
        "/Patient/{id}/_history",
        "/Patient/{id}/_history/1",
        "/Patient?_count=1",
        "/_history",
        "/Patient/{id}/$catheter-days",
        "/$overdue",
        "/$export?_type=Patient",
        "{file}"
      })
  void an_answer_begins_after_its_row_is_durable(String place) throws Exception {
    String path = place.equals("{file}") ? file() : place.replace("{id}", patient());
    trail.hold();

    CompletableFuture<HttpResponse<String>> answer = ask(request(path));
    Handed handed = trail.next();

    // The event loop is free meanwhile, and what needs no row is answered.
    assertThat(ask(request("/metadata")).get().statusCode()).isEqualTo(200);
    assertThat(answer).isNotDone();
    assertThat(handed.rows()).extracting(AuditEntry::outcome).containsOnly(Outcome.SUCCESS);
    handed.kept().complete(true);
    assertThat(answer.get().statusCode()).isIn(200, 202);
    assertThat(trail.isEmpty()).isTrue();
  }

  @Test
  void an_answer_whose_row_cannot_be_written_is_withheld() throws Exception {
    String id = patient();
    for (String path : List.of("/Patient/" + id, file())) {
      trail.hold();

      CompletableFuture<HttpResponse<String>> answer = ask(request(path));
      Handed handed = trail.next();
      handed.kept().complete(false);

      assertThat(answer.get().statusCode()).isEqualTo(503);
      assertThat(answer.get().headers().firstValue("Retry-After")).contains("1");
      assertThat(answer.get().headers().firstValue("ETag")).isEmpty();
      assertThat(answer.get().body()).contains("OperationOutcome", "IND-0461").doesNotContain(id);
      assertThat(handed.rows()).extracting(AuditEntry::status).containsExactly(200);
      AuditEntry instead = handed.otherwise().get(0);
      assertThat(instead.status()).isEqualTo(503);
      assertThat(instead.reason()).contains("IND-0461");
      assertThat(instead.outcome()).isEqualTo(Outcome.SERIOUS_FAILURE);
    }
  }

  /** It tells nobody anything, and without it a caller would not learn that it has to log in. */
  @Test
  void a_refusal_waits_for_its_row_and_is_answered_without_it_too() throws Exception {
    trail.hold();
    for (boolean kept : new boolean[] {true, false}) {
      CompletableFuture<HttpResponse<String>> unknown = ask(request("/Patient/nobody"));
      Handed handed = trail.next();
      assertThat(unknown).isNotDone();
      handed.kept().complete(kept);
      assertThat(unknown.get().statusCode()).isEqualTo(404);
      assertThat(handed.otherwise()).isEqualTo(handed.rows());

      CompletableFuture<HttpResponse<String>> nobody =
          ask(HttpRequest.newBuilder(URI.create(server.base() + "/Patient")));
      trail.next().kept().complete(kept);
      assertThat(nobody.get().statusCode()).isEqualTo(401);
      assertThat(nobody.get().headers().firstValue("WWW-Authenticate")).isPresent();
    }
  }

  @Test
  void the_rows_of_a_batch_are_handed_over_together() throws Exception {
    trail.hold();
    String batch =
        """
        {"resourceType":"Bundle","type":"batch","entry":[
          {"request":{"method":"GET","url":"Patient?_count=1"}},
          {"request":{"method":"GET","url":"Device/nothing"}}]}""";

    CompletableFuture<HttpResponse<String>> answer =
        ask(
            request("")
                .header("Content-Type", "application/fhir+json")
                .POST(BodyPublishers.ofString(batch)));
    Handed handed = trail.next();

    assertThat(answer).isNotDone();
    assertThat(handed.rows()).extracting(AuditEntry::status).containsExactly(200, 404);
    assertThat(handed.otherwise()).extracting(AuditEntry::status).containsExactly(503, 404);
    handed.kept().complete(false);
    assertThat(answer.get().statusCode()).isEqualTo(503);
  }

  @Test
  void while_the_trail_has_no_room_nobody_is_let_in() throws Exception {
    AuditTrail full =
        new AuditTrail() {
          @Override
          public boolean hasRoom() {
            return false;
          }

          @Override
          public CompletionStage<Boolean> keep(List<AuditEntry> rows, List<AuditEntry> otherwise) {
            throw new AssertionError("Nobody was let in.");
          }
        };
    try (FhirServer closed = new FhirServer(issuer.mode(), store, full)) {
      HttpResponse<String> answer =
          closed.get(
              "/Procedure",
              "Authorization",
              "Bearer " + issuer.token("ehr", AuditedServer.ALL, closed.now()));
      assertThat(answer.statusCode()).isEqualTo(503);
      assertThat(answer.headers().firstValue("Retry-After")).contains("1");
      assertThat(answer.body()).contains("OperationOutcome", "IND-0440");
      assertThat(closed.get("/metadata").statusCode()).isEqualTo(200);
    }
  }
}
