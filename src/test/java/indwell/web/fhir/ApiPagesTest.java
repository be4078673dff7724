package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The tables of outcomes under docs/api are read, and every request in them is sent. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ApiPagesTest {
  private static final String HEAD = "| request | sends | status | code |";

  private record Row(String method, String path, String sends, int status, String code) {
    static Row of(String line) {
      List<String> cells =
          Arrays.stream(line.substring(1, line.length() - 1).split("\\|", -1))
              .map(cell -> cell.strip().replace("`", ""))
              .toList();
      assertThat(cells).as(line).hasSize(4);
      String[] request = cells.get(0).split(" ", 2);
      return new Row(
          request[0],
          request[1].substring("/fhir".length()),
          cells.get(1),
          Integer.parseInt(cells.get(2)),
          cells.get(3));
    }
  }

  private static List<Row> rows(String page) throws Exception {
    List<Row> rows = new ArrayList<>();
    boolean within = false;
    for (String line : Files.readAllLines(Path.of("docs/api", page))) {
      within = line.equals(HEAD) || (within && line.startsWith("|"));
      if (within && !line.equals(HEAD) && !line.startsWith("|---")) {
        rows.add(Row.of(line));
      }
    }
    return rows;
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "metadata.md",
        "read.md",
        "vread.md",
        "history.md",
        "search.md",
        "flags.md",
        "overdue.md",
        "catheter-days.md"
      })
  void every_request_has_the_outcome_of_its_row(String page) throws Exception {
    try (FhirServer server = new FhirServer()) {
      server.recordStay();
      Map<String, String> ids = ids(new Answers(server));
      List<Row> rows = rows(page);
      assertThat(rows).hasSizeGreaterThan(4);
      for (Row row : rows) {
        String path = row.path();
        for (Map.Entry<String, String> id : ids.entrySet()) {
          path = path.replace("{" + id.getKey() + "}", id.getValue());
        }
        HttpResponse<String> response = send(server, row, path);
        assertThat(response.statusCode()).as(row + " " + response.body()).isEqualTo(row.status());
        if (row.status() >= 400) {
          assertThat(Answers.read(response.body()).at("/issue/0/details/coding/0/code").asText())
              .as(row.toString())
              .isEqualTo(row.code());
        } else {
          assertThat(row.code()).isEmpty();
        }
      }
    }
  }

  private static Map<String, String> ids(Answers answers) throws Exception {
    return Map.of(
        "device", id(answers, "Device"),
        "patient", id(answers, "Patient"),
        "flag", id(answers, "Flag"));
  }

  private static String id(Answers answers, String type) throws Exception {
    return answers.matches("/" + type).get(0).substring(type.length() + 1);
  }

  private static HttpResponse<String> send(FhirServer server, Row row, String path)
      throws Exception {
    if (row.sends().startsWith("body: ")) {
      return server.post(
          path, "application/x-www-form-urlencoded", row.sends().substring("body: ".length()));
    }
    if (!row.method().equals("GET")) {
      return server.send(row.method(), path);
    }
    int colon = row.sends().indexOf(": ");
    return colon < 0
        ? server.get(path)
        : server.get(path, row.sends().substring(0, colon), row.sends().substring(colon + 2));
  }
}
