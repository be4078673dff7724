package indwell.web.surveillance;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import indwell.docs.Markdown;
import indwell.domain.candidate.CandidateAnswer;
import indwell.domain.rule.RuleId;
import indwell.port.ClinicalStore;
import indwell.port.StoreUnavailable;
import java.io.IOException;
import java.io.InputStream;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Function;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Candidates over HTTP, about the patient of docs/api/candidates.md. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class CandidatesHttpTest {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final String PATH = "/surveillance/candidates";
  private static FactsServer server;
  private static ObjectNode question;

  @BeforeAll
  static void start() throws Exception {
    Markdown page = Markdown.of("docs/api/candidates.md");
    question = (ObjectNode) JSON.readTree(page.blocks("json").get(1));
    server = new FactsServer();
    List<String> events = new ArrayList<>();
    JSON.readTree(page.blocks("json").get(0)).forEach(event -> events.add(event.toString()));
    server.take(events);
  }

  @AfterAll
  static void stop() throws Exception {
    server.close();
  }

  /** The whole answer; what it says was checked by hand against docs/rules.md. */
  @Test
  void the_question_of_the_page_is_answered_in_full() throws Exception {
    ObjectNode asked = question.deepCopy();
    asked.put("surgeryEndedAt", "2026-03-05T23:30:00Z");
    HttpResponse<String> answer = server.send("POST", PATH, asked.toString());

    assertThat(answer.statusCode()).isEqualTo(200);
    assertThat(answer.headers().firstValue("Content-Type")).contains("application/json");
    assertThat(answer.headers().firstValue("Cache-Control")).contains("no-store");
    assertThat(JSON.readTree(answer.body()).toPrettyString())
        .isEqualTo(JSON.readTree(expected()).toPrettyString());
  }

  private static byte[] expected() throws IOException {
    try (InputStream in = CandidatesHttpTest.class.getResourceAsStream("candidates-answer.json")) {
      return in.readAllBytes();
    }
  }

  @Test
  void every_rule_that_is_named_stands_with_its_source() throws Exception {
    JsonNode answer = JSON.readTree(server.send("POST", PATH, question.toString()).body());
    Set<String> named = new TreeSet<>();
    answer.get("cultures").findValues("rule").forEach(rule -> named.add(rule.asText()));

    assertThat(answer.get("rules").findValuesAsText("rule"))
        .containsExactlyInAnyOrderElementsOf(named);
    for (JsonNode rule : answer.get("rules")) {
      assertThat(RuleId.valueOf(rule.get("rule").asText().replace('-', '_')).source())
          .isEqualTo(rule.get("source").asText());
    }
  }

  /** The facility is in Berlin, and 2026-03-05T23:30Z is 6 March there: day 1 is 7 March. */
  @Test
  void the_removal_is_counted_on_the_dates_of_the_facility() throws Exception {
    ObjectNode asked = question.deepCopy();
    asked.put("surgeryEndedAt", "2026-03-05T23:30:00Z");
    JsonNode removal =
        JSON.readTree(server.send("POST", PATH, asked.toString()).body())
            .get("postoperativeRemoval");

    assertThat(removal.get("postoperativeDay").asInt()).isEqualTo(1);
    asked.put("surgeryEndedAt", "2026-03-05T22:30:00Z");
    assertThat(
            JSON.readTree(server.send("POST", PATH, asked.toString()).body())
                .at("/postoperativeRemoval/postoperativeDay")
                .asInt())
        .isEqualTo(2);
  }

  @Test
  void doubts_about_the_record_come_with_the_answer() throws Exception {
    server.take(
        List.of(
            """
            {"source": "ward", "eventId": "in-3", "type": "patient-admitted",
             "occurredAt": "2026-03-01T09:00:00+01:00",
             "patient": {"system": "urn:demo:patient", "value": "P-3"},
             "encounter": {"system": "urn:demo:stay", "value": "S-3"}, "details": {"ward": "A-1"}}
            """,
            """
            {"source": "ward", "eventId": "out-3", "type": "catheter-removed",
             "occurredAt": "2026-03-02T09:00:00+01:00",
             "patient": {"system": "urn:demo:patient", "value": "P-3"},
             "details": {"catheterId": "C-3"}}
            """));
    ObjectNode asked = question.deepCopy();
    ((ObjectNode) asked.get("patient")).put("value", "P-3");
    JsonNode remark =
        JSON.readTree(server.send("POST", PATH, asked.toString()).body()).at("/remarks/0");

    assertThat(remark.get("code").asText()).isEqualTo("IND-0201");
    assertThat(remark.get("events")).extracting(JsonNode::asText).containsExactly("ward:out-3");
    assertThat(remark.get("diagnostics").asText()).contains("C-3");
  }

  @Test
  void only_a_POST_of_plain_JSON_is_read() throws Exception {
    HttpResponse<String> get = server.send("GET", PATH, "");
    assertThat(get.statusCode()).isEqualTo(405);
    assertThat(get.headers().firstValue("Allow")).contains("POST");
    assertThat(server.send("PUT", PATH, "{}").statusCode()).isEqualTo(405);
    assertThat(server.send("POST", PATH, "text/csv", "a,b", Optional.empty()).statusCode())
        .isEqualTo(415);
  }

  @Test
  void a_body_of_256_KiB_is_read_and_a_larger_one_is_not() throws Exception {
    String body = question.toString();
    String full = body + " ".repeat(256 * 1024 - body.length());

    assertThat(server.send("POST", PATH, full).statusCode()).isEqualTo(200);
    HttpResponse<String> larger = server.send("POST", PATH, full + " ");
    assertThat(larger.statusCode()).isEqualTo(413);
    assertThat(larger.body())
        .contains("IND-0004", "The body is too large; expected at most 262144 bytes.");
  }

  @Test
  void a_store_that_is_away_and_a_fault_are_told_apart_without_a_word_of_the_patient()
      throws Exception {
    try (FactsServer away = new FactsServer(store -> new Failing(store, gone()))) {
      HttpResponse<String> answer = away.send("POST", PATH, question.toString());
      assertThat(answer.statusCode()).isEqualTo(503);
      assertThat(answer.headers().firstValue("Retry-After")).contains("1");
      assertThat(answer.body()).contains("IND-0091").doesNotContain("P-7");
    }
    IllegalStateException fault = new IllegalStateException("a row of P-7");
    try (FactsServer broken = new FactsServer(store -> new Failing(store, fault))) {
      HttpResponse<String> answer = broken.send("POST", PATH, question.toString());
      assertThat(answer.statusCode()).isEqualTo(500);
      assertThat(answer.body()).contains("IND-0090").doesNotContain("P-7");
    }
  }

  private static StoreUnavailable gone() {
    return new StoreUnavailable("no rows of P-7", new IllegalStateException("P-7"));
  }

  /** Fails whenever it is read. */
  private static final class Failing extends ReadOnlyStore {
    private final RuntimeException failure;

    Failing(ClinicalStore store, RuntimeException failure) {
      super(store);
      this.failure = failure;
    }

    @Override
    public <T> T read(Function<Reading, T> work) {
      throw failure;
    }
  }

  /** A ward may be called so all the same. */
  @Test
  void facts_of_a_ward_named_candidates_are_still_facts() throws Exception {
    assertThat(
            server
                .send("PUT", "/surveillance/candidates/2026-02", "{\"confirmedCauti\":1}")
                .statusCode())
        .isEqualTo(201);
  }

  @Test
  void the_answer_is_cautious_and_says_candidate() throws Exception {
    String answer = server.send("POST", PATH, question.toString()).body();

    assertThat(CandidateAnswer.CAUTION)
        .contains("review by a person", "never a diagnosis", "never replace it");
    assertThat(answer).contains(CandidateAnswer.CAUTION);
    assertThat(answer.replace(CandidateAnswer.CAUTION, ""))
        .doesNotContainIgnoringCase("diagnos")
        .doesNotContainIgnoringCase("has an infection")
        .contains("Candidate by criterion SUTI-1a");
  }
}
