package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import indwell.contract.SharedValidator;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.TreeSet;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * docs/api/device-days.md: its outcome table is sent, its parameters are those of the definition.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class DeviceDaysPageTest {
  private static final String PAGE = "docs/api/device-days.md";

  @Test
  void every_row_of_the_outcome_table_is_answered_so() throws Exception {
    List<String> answers = new ArrayList<>();
    List<String> expected = new ArrayList<>();
    try (FhirServer server = new FhirServer(SharedValidator.WARM)) {
      server.recordStay();
      String patient = new Answers(server).matches("/Patient").get(0);
      for (List<String> row : rows()) {
        HttpResponse<String> answer =
            send(server, row.get(0).replace("{patient}", patient), row.get(1));
        answers.add(row.get(0) + row.get(1) + ": " + answer.statusCode() + " " + code(answer));
        expected.add(row.get(0) + row.get(1) + ": " + row.get(2) + " " + row.get(3));
      }
    }
    assertThat(answers).isEqualTo(expected).hasSize(32);
  }

  private static List<List<String>> rows() throws Exception {
    return Files.readAllLines(Path.of(PAGE)).stream()
        .filter(line -> line.matches("\\| `(GET|POST|PUT) /fhir/.*"))
        .map(line -> line.substring(1, line.length() - 1).split("\\|", -1))
        .map(cells -> Arrays.stream(cells).map(cell -> cell.strip().replace("`", "")).toList())
        .toList();
  }

  private static HttpResponse<String> send(FhirServer server, String request, String sends)
      throws Exception {
    String[] parts = request.split(" ");
    String path = parts[1].substring("/fhir".length());
    if (!parts[0].equals("POST")) {
      return server.send(parts[0], path);
    }
    String[] headers =
        sends.endsWith(", lenient") ? new String[] {"Prefer", "handling=lenient"} : new String[0];
    return server.post(path, type(sends), body(sends.replace(", lenient", "")), headers);
  }

  private static String type(String sends) {
    return sends.equals("text")
        ? "text/plain"
        : sends.startsWith("lines") ? "application/fhir+ndjson" : "application/fhir+json";
  }

  private static String body(String sends) {
    List<String> story = EhrResources.story();
    return switch (sends) {
      case "Parameters with start and end" -> parameters(true, "");
      case "Parameters with start, end and the story" -> parameters(true, resource());
      case "Parameters with the story" -> parameters(false, resource());
      case "a Bundle with the story" -> EhrResources.bundle("collection", story);
      case "a Bundle of type history" -> EhrResources.bundle("history", story);
      case "a Patient" -> EhrResources.patient("1");
      case "lines with the story" -> String.join("\n", story);
      case "lines with nothing" -> "\n";
      case "lines with the story without its Device" ->
          String.join("\n", story.stream().filter(one -> !one.contains("\"Device\"")).toList());
      case "lines with the story without offsets" ->
          String.join("\n", story).replace("00:00Z", "00:00");
      case "lines that are no JSON", "text" -> "Med,1,1";
      default -> throw new AssertionError("Nobody knows how to send " + sends);
    };
  }

  private static String resource() {
    return "{\"name\":\"resource\",\"resource\":"
        + EhrResources.bundle("collection", EhrResources.story())
        + "}";
  }

  private static String parameters(boolean dated, String more) {
    List<String> parts = new ArrayList<>();
    if (dated) {
      parts.add("{\"name\":\"start\",\"valueDate\":\"2026-03-01\"}");
      parts.add("{\"name\":\"end\",\"valueDate\":\"2026-03-07\"}");
    }
    if (!more.isEmpty()) {
      parts.add(more);
    }
    return "{\"resourceType\":\"Parameters\",\"parameter\":[" + String.join(",", parts) + "]}";
  }

  private static String code(HttpResponse<String> answer) throws Exception {
    return answer.statusCode() < 400
        ? ""
        : Answers.read(answer.body()).at("/issue/0/details/coding/0/code").asText();
  }

  @Test
  void the_page_names_every_parameter_of_the_definition() throws Exception {
    JsonNode definition =
        Answers.read(
            Files.readString(Path.of("fhir-profiles/OperationDefinition-device-days.json")));
    String page = Files.readString(Path.of(PAGE));
    TreeSet<String> missing = new TreeSet<>();
    for (JsonNode parameter : definition.get("parameter")) {
      if (parameter.get("use").asText().equals("in")) {
        missing.add(parameter.get("name").asText());
      }
    }
    missing.removeIf(name -> page.contains("`" + name + "`"));
    assertThat(missing).isEmpty();
  }
}
