package indwell.web.surveillance;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** docs/api/surveillance-facts.md: its outcome table is sent row by row, its fields are put. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class FactsPageTest {
  private static final ObjectMapper JSON = new ObjectMapper();

  @Test
  void every_row_of_the_outcome_table_is_answered_so() throws Exception {
    List<String[]> rows = rows("(GET|PUT|POST|DELETE) /surveillance.*");
    assertThat(rows).hasSizeGreaterThan(10);
    try (FactsServer server = new FactsServer()) {
      for (String[] row : rows) {
        assertThat(answer(server, row))
            .as(String.join(" | ", row))
            .isEqualTo(List.of(row[3], row[4], row[5]));
      }
    }
  }

  private static List<String> answer(FactsServer server, String[] row) throws Exception {
    String[] request = row[0].split(" ");
    HttpResponse<String> answer =
        server.send(
            request[0],
            request[1],
            code(row[2]),
            Optional.of(code(row[1])).filter(text -> !text.isEmpty()));
    JsonNode json = JSON.readTree(answer.body());
    JsonNode result = json.isArray() ? json.get(0) : json;
    return List.of(
        Integer.toString(answer.statusCode()),
        result.get("outcome").asText(),
        result.at("/issues/0/code").asText("none"));
  }

  /** Several pieces of code are several lines. */
  private static String code(String cell) {
    return Pattern.compile("`([^`]*)`")
        .matcher(cell)
        .results()
        .map((MatchResult piece) -> piece.group(1))
        .collect(Collectors.joining("\n"));
  }

  @Test
  void the_fields_of_the_page_are_those_that_are_read() throws Exception {
    List<String> fields = new ArrayList<>();
    List<String> columns = new ArrayList<>();
    for (String[] row : rows("`[a-zA-Z]+` \\| `[a-z_]+` .*")) {
      fields.add(code(row[0]));
      columns.add(code(row[1]));
    }
    try (FactsServer server = new FactsServer()) {
      String header = String.join(",", columns) + "\n";
      assertThat(server.send("POST", "/surveillance", header).statusCode()).isEqualTo(200);
      String sentence =
          JSON.readTree(server.send("PUT", "/surveillance/A/2026-01", "{\"beds\":1}").body())
              .at("/issues/0/diagnostics")
              .asText();
      String known = sentence.replaceAll(".*expected only |\\.$", "");
      assertThat(known.split(", ")).containsExactlyInAnyOrderElementsOf(fields);
    }
  }

  private static List<String[]> rows(String form) throws IOException {
    return Files.readAllLines(Path.of("docs/api/surveillance-facts.md")).stream()
        .filter(line -> line.matches("\\| " + form))
        .map(line -> line.substring(2, line.length() - 2).split(" \\| ", -1))
        .toList();
  }
}
