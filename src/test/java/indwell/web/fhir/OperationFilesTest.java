package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Each OperationDefinition of {@code fhir-profiles} is about an operation that is as it says. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class OperationFilesTest {
  /** A value that works, by the operation and the parameter. */
  private static final Map<String, String> VALUES =
      Map.of(
          "device-days start", "2026-03-01",
          "device-days end", "2026-03-02",
          "device-days why", "true",
          "device-days report-type", "summary",
          "device-days subject", "Patient/{patient}",
          "unit-report start", "2026-03",
          "unit-report end", "2026-03",
          "catheter-days asOf", "2026-03-02T12:00:00Z",
          "overdue asOf", "2026-03-02T12:00:00Z",
          "overdue ward", "A-1");

  private String patient = "";

  static List<JsonNode> definitions() throws IOException {
    List<JsonNode> all = new ArrayList<>();
    try (Stream<Path> files = Files.list(Path.of("fhir-profiles"))) {
      for (Path file : files.sorted().toList()) {
        if (file.getFileName().toString().startsWith("OperationDefinition-")) {
          all.add(new ObjectMapper().readTree(file.toFile()));
        }
      }
    }
    return all;
  }

  @ParameterizedTest
  @MethodSource("definitions")
  void the_operation_is_as_its_definition_says(JsonNode definition) throws Exception {
    try (FhirServer server = new FhirServer()) {
      server.recordStay();
      // So that the month of the stay has ended.
      server.advance(Duration.ofDays(30));
      Answers answers = new Answers(server);
      patient = answers.matches("/Patient").get(0);
      List<String> paths = paths(definition);
      assertThat(paths).isNotEmpty();
      for (String path : paths) {
        accepts(server, definition, path);
      }
      listed(answers.get("/metadata").at("/rest/0"), definition);
    }
  }

  /** Where it is called: on the system, and on an instance of each type. */
  private List<String> paths(JsonNode definition) {
    String name = "/$" + definition.get("code").asText();
    List<String> paths = new ArrayList<>();
    if (definition.get("system").asBoolean()) {
      paths.add(name);
    }
    assertThat(definition.get("type").asBoolean()).isFalse();
    if (definition.get("instance").asBoolean()) {
      definition
          .get("resource")
          .forEach(
              type ->
                  paths.add(
                      "/" + (type.asText().equals("Location") ? "Location/A-1" : patient) + name));
    }
    return paths;
  }

  private void accepts(FhirServer server, JsonNode definition, String path) throws Exception {
    List<String> required = new ArrayList<>();
    List<String> optional = new ArrayList<>();
    for (JsonNode parameter : definition.get("parameter")) {
      // Bundles are sent in a body, any number of them: SentDeviceDaysTest.
      if (parameter.get("use").asText().equals("in")
          && !parameter.get("type").asText().equals("Bundle")) {
        assertThat(parameter.get("max").asText()).isEqualTo("1");
        String name = parameter.get("name").asText();
        (parameter.get("min").asInt() == 1 ? required : optional).add(name);
      }
    }
    JsonNode answer = answered(server, path, query(definition, required));
    sameShape(answer, definition.get("parameter"));
    for (String name : optional) {
      List<String> all = new ArrayList<>(required);
      all.add(name);
      assertThat(server.get(path + query(definition, all)).body())
          .as(path + " " + name)
          .doesNotContain("IND-0103");
    }
    for (String name : required) {
      List<String> without = new ArrayList<>(required);
      without.remove(name);
      refused(server, path + query(definition, without), "IND-0105");
    }
    String query = query(definition, required);
    refused(server, path + query + (query.isEmpty() ? "?" : "&") + "no-such=1", "IND-0103");
  }

  private JsonNode answered(FhirServer server, String path, String query) throws Exception {
    HttpResponse<String> got = server.get(path + query);
    assertThat(got.statusCode()).as(path + query + got.body()).isEqualTo(200);
    // It does not change anything, so it is asked either way.
    HttpResponse<String> posted =
        server.post(path + query, "application/fhir+json", "{\"resourceType\":\"Parameters\"}");
    assertThat(Answers.read(posted.body()).at("/resourceType"))
        .isEqualTo(Answers.read(got.body()).at("/resourceType"));
    return Answers.read(got.body());
  }

  private static void refused(FhirServer server, String path, String code) throws Exception {
    HttpResponse<String> response = server.get(path);
    assertThat(response.statusCode()).as(path).isEqualTo(400);
    assertThat(Answers.read(response.body()).at("/issue/0/details/coding/0/code").asText())
        .as(path)
        .isEqualTo(code);
  }

  private String query(JsonNode definition, List<String> names) {
    List<String> parts = new ArrayList<>();
    for (String name : names) {
      String value = VALUES.get(definition.get("code").asText() + " " + name);
      assertThat(value).as("a value for " + name).isNotNull();
      parts.add(name + "=" + value.replace("Patient/{patient}", patient));
    }
    return parts.isEmpty() ? "" : "?" + String.join("&", parts);
  }

  /** One resource by the name of return, or Parameters with the parts that are defined. */
  private static void sameShape(JsonNode answer, JsonNode parameters) {
    List<JsonNode> out = new ArrayList<>();
    parameters.forEach(
        one -> {
          if (one.get("use").asText().equals("out")) {
            out.add(one);
          }
        });
    if (out.size() == 1 && out.get(0).get("name").asText().equals("return")) {
      assertThat(answer.get("resourceType").asText()).isEqualTo(out.get(0).get("type").asText());
    } else {
      assertThat(answer.get("resourceType").asText()).isEqualTo("Parameters");
      parts(answer.get("parameter"), out);
    }
  }

  private static void parts(JsonNode given, List<JsonNode> defined) {
    for (JsonNode definition : defined) {
      String name = definition.get("name").asText();
      List<JsonNode> same = new ArrayList<>();
      given.forEach(
          one -> {
            if (one.get("name").asText().equals(name)) {
              same.add(one);
            }
          });
      assertThat(same.size()).as(name).isGreaterThanOrEqualTo(definition.get("min").asInt());
      String max = definition.get("max").asText();
      assertThat(max.equals("*") || same.size() <= Integer.parseInt(max)).as(name).isTrue();
      for (JsonNode one : same) {
        typed(one, definition);
      }
    }
    Set<String> names = new TreeSet<>();
    defined.forEach(one -> names.add(one.get("name").asText()));
    given.forEach(one -> assertThat(names).contains(one.get("name").asText()));
  }

  private static void typed(JsonNode one, JsonNode definition) {
    if (definition.has("part")) {
      List<JsonNode> parts = new ArrayList<>();
      definition.get("part").forEach(parts::add);
      parts(one.path("part"), parts);
    } else if (definition.get("type").asText().matches("[A-Z].*")) {
      assertThat(one.at("/resource/resourceType").asText())
          .isEqualTo(definition.get("type").asText());
    } else {
      String type = definition.get("type").asText();
      String value = "value" + Character.toUpperCase(type.charAt(0)) + type.substring(1);
      assertThat(one.has(value) || one.has("_" + value)).as(one + " " + value).isTrue();
    }
  }

  private static void listed(JsonNode rest, JsonNode definition) {
    String named =
        "{\"name\":\"%s\",\"definition\":\"%s\"}"
            .formatted(definition.get("code").asText(), definition.get("url").asText());
    assertThat(rest.path("operation").toString().contains(named))
        .isEqualTo(definition.get("system").asBoolean());
    for (JsonNode resource : rest.get("resource")) {
      boolean expected =
          definition
              .path("resource")
              .toString()
              .contains('"' + resource.get("type").asText() + '"');
      assertThat(resource.path("operation").toString().contains(named))
          .as(resource.get("type").asText())
          .isEqualTo(expected);
    }
  }
}
