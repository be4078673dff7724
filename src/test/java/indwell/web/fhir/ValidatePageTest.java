package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.contract.SharedValidator;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** The requests of {@code docs/api/validate.md}, sent. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ValidatePageTest {

  /** One row of the table of outcomes. */
  private record Row(String method, String path, String body, int status, String says) {
    static Row of(String line) {
      String[] cells = line.substring(2).split(" ?(?<!\\\\)\\| ?", -1);
      String[] request = cells[0].replace("`", "").split(" ", 2);
      return new Row(
          request[0],
          request[1].substring("/fhir".length()),
          cells[1].replace("`", ""),
          Integer.parseInt(cells[2]),
          cells[3].replace("\\|", "|"));
    }

    Row with(String patient) {
      return new Row(
          method,
          path.replace("{patient}", patient),
          body.replace("{patient}", patient),
          status,
          says);
    }
  }

  private static List<Row> rows() throws Exception {
    return Files.readAllLines(Path.of("docs/api/validate.md")).stream()
        .dropWhile(line -> !line.startsWith("| request |"))
        .skip(2)
        .map(Row::of)
        .toList();
  }

  @Test
  void every_request_has_the_outcome_of_its_row() throws Exception {
    try (FhirServer server = new FhirServer(SharedValidator.WARM)) {
      server.recordStay();
      Answers answers = new Answers(server);
      String patient = answers.matches("/Patient").get(0).substring("Patient/".length());
      List<Row> rows = rows();
      assertThat(rows).hasSizeGreaterThan(20);
      for (Row row : rows) {
        Row sent = row.with(patient);
        HttpResponse<String> answer =
            sent.method().equals("GET")
                ? server.get(sent.path())
                : server.post(sent.path(), "application/fhir+json", sent.body());
        assertThat(answer.statusCode()).as(sent + answer.body()).isEqualTo(sent.status());
        assertThat(Answers.read(answer.body()).at("/issue/0/diagnostics").asText())
            .as(sent.toString())
            .startsWith(sent.says());
      }
    }
  }

  @Test
  void the_rule_stands_in_the_details_as_well() throws Exception {
    try (FhirServer server = new FhirServer(SharedValidator.WARM)) {
      HttpResponse<String> answer =
          server.post(
              "/Flag/$validate",
              "application/fhir+json",
              Files.readString(
                  Path.of("fhir-profiles/cases/invalid/catheter-flag-ind-flag-1.json")));
      assertThat(Answers.read(answer.body()).at("/issue/0/details/text").asText())
          .isEqualTo(
              "invariant ind-flag-1 of"
                  + " https://indwell.example/fhir/StructureDefinition/catheter-flag|0.1.0");
      assertThat(Answers.read(answer.body()).at("/issue/0/expression/0").asText())
          .isEqualTo("Flag");
    }
  }
}
