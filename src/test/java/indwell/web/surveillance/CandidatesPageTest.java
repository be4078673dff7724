package indwell.web.surveillance;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import indwell.docs.Markdown;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * docs/api/candidates.md: its outcome table is asked row by row, its fields are those there are.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class CandidatesPageTest {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static FactsServer server;
  private static Markdown page;
  private static ObjectNode question;

  @BeforeAll
  static void start() throws Exception {
    page = Markdown.of("docs/api/candidates.md");
    server = new FactsServer();
    List<String> events = new ArrayList<>();
    JSON.readTree(page.blocks("json").get(0)).forEach(event -> events.add(event.toString()));
    server.take(events);
    question = (ObjectNode) JSON.readTree(page.blocks("json").get(1));
  }

  @AfterAll
  static void stop() throws Exception {
    server.close();
  }

  @Test
  void every_row_of_the_outcome_table_is_answered_so() throws Exception {
    List<List<String>> rows = outcomes();
    assertThat(rows).hasSizeGreaterThan(20);
    for (List<String> row : rows) {
      assertThat(answered(row.get(0)))
          .as(String.join(" | ", row))
          .isEqualTo(row.subList(1, row.size()));
    }
  }

  private static List<List<String>> outcomes() {
    return page.rows().stream().filter(row -> row.get(0).startsWith("`{")).toList();
  }

  private static List<String> answered(String cell) throws Exception {
    HttpResponse<String> answer = ask(cell);
    JsonNode json = JSON.readTree(answer.body());
    JsonNode said = json.at("/cultures/0");
    return List.of(
        Integer.toString(answer.statusCode()),
        said.path("result").asText(json.path("outcome").asText("none")),
        said.path("criterion").asText("none"),
        said.path("dateOfEvent").asText("none"),
        said.path("onset").asText("none"),
        said.has("catheterAssociated")
            ? (said.get("catheterAssociated").asBoolean() ? "yes" : "no")
            : "none",
        said.path("ward").asText("none"),
        json.at("/issues/0/code").asText("none"));
  }

  /** The question with the fields of a cell put in the place of its own. */
  private static HttpResponse<String> ask(String cell) throws Exception {
    String organisms = question.at("/cultures/0/organisms").toString();
    String changed = cell.replace("`", "").replace("{c}", organisms);
    ObjectNode body = question.deepCopy();
    JSON.readTree(changed)
        .properties()
        .forEach(
            field -> {
              if (field.getValue().isNull()) {
                body.remove(field.getKey());
              } else {
                body.set(field.getKey(), field.getValue());
              }
            });
    return server.send("POST", "/surveillance/candidates", body.toString());
  }

  @Test
  void the_fields_of_a_question_are_those_that_are_read() throws Exception {
    List<String> sentences = new ArrayList<>();
    String organism = "{\"name\": \"E\", \"kind\": \"bacterium\", \"x\": 1}";
    String body =
        """
        {"x": 1, "patient": {"system": "urn:s", "value": "v"}, "ageYears": 1,
         "cultures": [{"x": 1, "collectedOn": "2026-03-01", "organisms": [%s]}],
         "findings": [{"x": 1, "kind": "temperature", "on": "2026-03-01", "value": 37, "unit": "Cel"},
           {"x": 1, "kind": "apnea", "on": "2026-03-01"}, {"x": 1, "kind": "dysuria", "on": "2026-03-01"}],
         "bloodCultures": [{"x": 1, "collectedOn": "2026-03-01", "organisms": [%s]}],
         "earlierEvents": [{"x": 1, "dateOfEvent": "2026-03-01"}]}
        """
            .formatted(organism, organism);
    JSON.readTree(server.send("POST", "/surveillance/candidates", body).body())
        .get("issues")
        .forEach(issue -> sentences.add(issue.get("diagnostics").asText()));
    Set<String> read = new TreeSet<>();
    sentences.forEach(
        sentence ->
            read.addAll(List.of(sentence.replaceAll(".*expected only |\\.$", "").split(", "))));

    assertThat(sentences).hasSize(9);
    assertThat(read).isEqualTo(fields(Table.QUESTION));
  }

  @Test
  void the_fields_of_an_answer_are_those_that_are_written() throws Exception {
    Set<String> written = new TreeSet<>();
    for (List<String> row : outcomes()) {
      HttpResponse<String> answer = ask(row.get(0));
      if (answer.statusCode() == 200) {
        addNames(JSON.readTree(answer.body()), written);
      }
    }
    String operation = "{\"surgeryEndedAt\": \"2026-03-05T10:00:00Z\"}";
    addNames(JSON.readTree(ask(operation).body()), written);
    Set<String> known = fields(Table.ANSWER);
    // Of values that are objects, as the page names them beside the field.
    known.addAll(List.of("system", "value", "start", "end", "elements", "source"));

    assertThat(written).isEqualTo(known);
  }

  private static void addNames(JsonNode node, Set<String> names) {
    node.fieldNames().forEachRemaining(names::add);
    node.forEach(child -> addNames(child, names));
  }

  /** The two tables of fields on the page. */
  private enum Table {
    QUESTION,
    ANSWER
  }

  private static Set<String> fields(Table table) {
    List<List<String>> rows =
        page.rows().stream().filter(row -> row.get(0).matches("`\\w+`(, `\\w+`)*")).toList();
    int second = rows.stream().map(row -> row.get(1)).toList().indexOf("answer");
    Set<String> names = new TreeSet<>();
    (table == Table.QUESTION ? rows.subList(0, second) : rows.subList(second, rows.size()))
        .forEach(row -> names.addAll(List.of(row.get(0).replace("`", "").split(", "))));
    return names;
  }
}
