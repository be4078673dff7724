package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.TreeSet;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * docs/api/unit-report.md: its outcome table is sent, its parameters are those of the definition.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class UnitReportPageTest {
  private static final ObjectMapper JSON = new ObjectMapper();

  @Test
  void every_row_of_the_outcome_table_is_answered_so() throws Exception {
    List<String[]> rows =
        page()
            .lines()
            .filter(line -> line.matches("\\| (GET|PUT) /fhir/.*"))
            .map(line -> line.substring(2, line.length() - 2).split(" \\| ", -1))
            .toList();
    assertThat(rows).hasSizeGreaterThan(8);
    try (FhirServer server = new FhirServer()) {
      UnitReportTest.recordStay(server);
      for (String[] row : rows) {
        String[] request = row[0].split(" ");
        HttpResponse<String> answer =
            server.send(request[0], request[1].substring("/fhir".length()));
        String code =
            JSON.readTree(answer.body()).at("/issue/0/details/coding/0/code").asText("none");
        assertThat(List.of(Integer.toString(answer.statusCode()), code))
            .as(row[0])
            .isEqualTo(List.of(row[1], row[2]));
      }
    }
  }

  @Test
  void the_page_names_every_parameter_and_part_of_the_definition() throws Exception {
    JsonNode definition =
        JSON.readTree(Path.of("fhir-profiles/OperationDefinition-unit-report.json").toFile());
    TreeSet<String> missing = new TreeSet<>();
    for (JsonNode parameter : definition.get("parameter")) {
      missing.add(parameter.get("name").asText());
      if (List.of("month", "ward").contains(parameter.get("name").asText())) {
        parameter.path("part").forEach(part -> missing.add(part.get("name").asText()));
      }
    }
    missing.removeIf(name -> page().contains("`" + name + "`"));
    assertThat(missing).isEmpty();
  }

  private static String page() {
    try {
      return Files.readString(Path.of("docs/api/unit-report.md"));
    } catch (java.io.IOException e) {
      throw new java.io.UncheckedIOException(e);
    }
  }
}
