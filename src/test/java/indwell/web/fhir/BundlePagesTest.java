package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.contract.SharedValidator;
import indwell.docs.Markdown;
import indwell.port.ProfileValidator;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.StreamSupport;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** The outcomes on the pages of transaction and batch are those of the service. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class BundlePagesTest {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final ProfileValidator VALIDATOR = SharedValidator.WARM;

  private FhirServer server;

  @BeforeEach
  void start() throws Exception {
    server = new FhirServer(VALIDATOR);
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
  }

  @Test
  void every_outcome_of_a_transaction_is_the_one_on_the_page() throws Exception {
    check("transaction", 41);
  }

  @Test
  void every_outcome_of_a_batch_is_the_one_on_the_page() throws Exception {
    assertThat(send(SentBundles.insertion()).statusCode()).isEqualTo(200);

    check("batch", 22);
  }

  @Test
  void a_refused_transaction_leaves_nothing() throws Exception {
    send(SentBundles.insertion());
    String before = server.get("/Observation?_summary=count").body();

    HttpResponse<String> answer =
        send(new SentBundles("transaction", server).body("a weight W-2 and one in pounds"));

    assertThat(answer.statusCode()).isEqualTo(422);
    assertThat(JSON.readTree(answer.body()).at("/issue/0/expression/0").asText())
        .startsWith("Bundle.entry[1].resource.value");
    assertThat(server.get("/Observation?_summary=count").body()).isEqualTo(before);
  }

  @Test
  void an_entry_of_a_batch_that_is_not_taken_says_why() throws Exception {
    JsonNode answer =
        JSON.readTree(
            send(new SentBundles("batch", server).body("a read of the patients and a HEAD"))
                .body());

    JsonNode issue = answer.at("/entry/1/response/outcome/issue/0");
    assertThat(issue.at("/details/coding/0/code").asText()).isEqualTo("IND-0250");
    assertThat(issue.path("diagnostics").asText())
        .isEqualTo("Method \"HEAD\" is not taken; expected GET, POST, PUT or DELETE.");
    assertThat(issue.at("/expression/0").asText()).isEqualTo("Bundle.entry[1].request.method");
  }

  /** Patients and Devices follow from events; each entry that deletes one is told so once. */
  @Test
  void what_cannot_be_deleted_is_told_once() throws Exception {
    send(SentBundles.insertion());
    String patient =
        JSON.readTree(server.get("/Patient").body()).at("/entry/0/resource/id").asText();

    for (String type : List.of("transaction", "batch")) {
      String body =
          "{\"resourceType\":\"Bundle\",\"type\":\"%s\",\"entry\":[{\"request\":{\"method\":\"DELETE\",\"url\":\"Patient/%s\"}}]}"
              .formatted(type, patient);
      JsonNode answer = JSON.readTree(send(body).body());
      JsonNode outcome = type.equals("batch") ? answer.at("/entry/0/response/outcome") : answer;

      assertThat(outcome.at("/issue/0/details/coding/0/code").asText()).isEqualTo("IND-0264");
      assertThat(outcome.path("issue")).as(outcome.toString()).hasSize(1);
    }
  }

  @Test
  void an_insertion_is_answered_with_what_was_made() throws Exception {
    JsonNode answer = JSON.readTree(send(SentBundles.insertion()).body());

    assertThat(answer.get("type").asText()).isEqualTo("transaction-response");
    for (int entry = 0; entry < 6; entry++) {
      String location = answer.at("/entry/" + entry + "/response/location").asText();
      assertThat(location).startsWith(server.base()).endsWith("/_history/1");
      assertThat(server.get(location.substring(server.base().length())).statusCode())
          .isEqualTo(200);
      assertThat(answer.at("/entry/" + entry + "/response/etag").asText()).isEqualTo("W/\"1\"");
    }
    assertThat(answer.at("/entry/6/resource/total").asInt()).isEqualTo(1);
    assertThat(server.get("/$overdue").body()).contains("need-review-overdue");
  }

  private void check(String page, int size) throws Exception {
    SentBundles bundles = new SentBundles(page, server);
    List<List<String>> rows =
        Markdown.of("docs/api/" + page + ".md").rows().stream()
            .filter(row -> row.size() == 4 && row.get(1).matches("\\d+"))
            .toList();
    List<String> answers = new ArrayList<>();
    List<String> expected = new ArrayList<>();
    for (List<String> row : rows) {
      HttpResponse<String> answer = send(bundles.body(row.get(0)));
      answers.add(
          row.get(0)
              + ": "
              + answer.statusCode()
              + " "
              + code(answer.body())
              + " "
              + entries(answer.body()));
      expected.add(row.get(0) + ": " + String.join(" ", row.subList(1, 4)));
    }
    assertThat(answers).isEqualTo(expected).hasSize(size);
  }

  private HttpResponse<String> send(String body) throws Exception {
    return server.post("", "application/fhir+json", body);
  }

  private static String code(String body) {
    Matcher code =
        Pattern.compile("\"severity\":\"error\"[^}]*\"code\":\"(IND-\\d{4})\"").matcher(body);
    return code.find() ? code.group(1) : "-";
  }

  private static String entries(String body) throws Exception {
    JsonNode entries = JSON.readTree(body).path("entry");
    String statuses =
        StreamSupport.stream(entries.spliterator(), false)
            .map(entry -> entry.at("/response/status").asText().substring(0, 3))
            .collect(Collectors.joining(" "));
    return statuses.isEmpty() ? "-" : statuses;
  }
}
