package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import indwell.fhir.map.FhirJson;
import indwell.fhir.search.SearchParameters;
import indwell.fhir.search.SearchValue;
import indwell.fhir.search.SearchValue.Coded;
import indwell.fhir.search.SearchValue.Dated;
import indwell.fhir.search.SearchValues;
import java.net.http.HttpResponse;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * Everything that the CapabilityStatement says is done
 * (https://hl7.org/fhir/R4/capabilitystatement.html): what it lists works, and a search that it
 * does not list is refused.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class CapabilityExerciseTest {
  /** Exercised by reading here; whatever writes is exercised where it is tested. */
  private static final Set<String> WRITING =
      Set.of("create", "update", "patch", "delete", "transaction", "batch");

  /** Searched by what the resources of this story do not have. */
  private static final Set<String> WITHOUT_VALUES =
      Set.of(
          "AuditEvent.address",
          "AuditEvent.altid",
          "Location.type",
          "Flag.identifier",
          "Observation.derived-from",
          "Observation.part-of");

  private FhirServer server;
  private Answers answers;
  private final Map<String, JsonNode> samples = new HashMap<>();

  @BeforeEach
  void start() throws Exception {
    server = new FhirServer();
    answers = new Answers(server);
    server.recordStay();
    server.record(
        FhirServer.event(
            "e5",
            "care-checked",
            "2026-03-02T08:00:00Z",
            "\"catheterId\":\"c1\",\"items\":{\"bag-off-floor\":true}"),
        FhirServer.event(
            "e6",
            "urine-measured",
            "2026-03-02T12:00:00Z",
            "\"volumeMl\":300,\"from\":\"2026-03-02T08:00:00Z\""));
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
  }

  private JsonNode rest() throws Exception {
    return answers.get("/metadata").at("/rest/0");
  }

  private JsonNode sample(String type) throws Exception {
    if (!samples.containsKey(type)) {
      List<JsonNode> all = Answers.resources(answers.get("/" + type + "?_count=1"), "match");
      assertThat(all).as(type).isNotEmpty();
      samples.put(type, all.get(0));
    }
    return samples.get(type);
  }

  private String address(String type) throws Exception {
    return "/" + type + "/" + sample(type).get("id").asText();
  }

  @Test
  void every_interaction_of_a_type_works() throws Exception {
    for (JsonNode resource : rest().get("resource")) {
      String type = resource.get("type").asText();
      for (JsonNode interaction : resource.path("interaction")) {
        String code = interaction.get("code").asText();
        Optional<String> path = path(type, code);
        if (path.isPresent()) {
          assertThat(server.get(path.get()).statusCode()).as(type + " " + code).isEqualTo(200);
        } else {
          assertThat(WRITING).contains(code);
        }
      }
    }
  }

  private Optional<String> path(String type, String code) throws Exception {
    return switch (code) {
      case "read" -> Optional.of(address(type));
      case "vread" -> Optional.of(address(type) + "/_history/1");
      case "history-instance" -> Optional.of(address(type) + "/_history");
      case "history-type" -> Optional.of("/" + type + "/_history");
      case "search-type" -> Optional.of("/" + type);
      default -> Optional.empty();
    };
  }

  @Test
  void every_interaction_of_the_system_works() throws Exception {
    Set<String> codes = new TreeSet<>();
    rest().path("interaction").forEach(one -> codes.add(one.get("code").asText()));
    assertThat(codes).contains("history-system");
    assertThat(server.get("/_history").statusCode()).isEqualTo(200);
    codes.removeAll(WRITING);
    assertThat(codes).containsExactly("history-system");
  }

  @Test
  void every_parameter_finds_what_has_its_value() throws Exception {
    Set<String> without = new TreeSet<>();
    for (JsonNode resource : rest().get("resource")) {
      String type = resource.get("type").asText();
      for (JsonNode parameter : resource.path("searchParam")) {
        String name = parameter.get("name").asText();
        assertThat(SearchParameters.find(type, name)).as(type + "." + name).isPresent();
        if (!findsAnything(type, name)) {
          without.add(type + "." + name);
        }
      }
    }
    assertThat(without).isSubsetOf(WITHOUT_VALUES);
  }

  /** They select nothing, so that a search with one finds what it finds without. */
  @Test
  void every_parameter_of_all_types_shapes_each_of_them() throws Exception {
    Map<String, String> values = Map.of("_elements", "meta", "_summary", "true");
    Set<String> listed = new TreeSet<>();
    for (JsonNode parameter : rest().path("searchParam")) {
      listed.add(parameter.get("name").asText());
    }
    assertThat(listed).isEqualTo(values.keySet());
    for (JsonNode resource : rest().get("resource")) {
      String type = resource.get("type").asText();
      if (resource.has("searchParam")) {
        for (String name : listed) {
          String query = "?" + name + "=" + values.get(name);
          assertThat(answers.matches("/" + type + query)).isEqualTo(answers.matches("/" + type));
          assertThat(answers.get(address(type) + query).at("/meta/tag/0/code").asText())
              .as(type + query)
              .isEqualTo("SUBSETTED");
        }
      }
    }
  }

  private boolean findsAnything(String type, String name) throws Exception {
    for (JsonNode one : Answers.resources(answers.get("/" + type + "?_count=100"), "match")) {
      Optional<String> value = value(one, name);
      if (value.isPresent()) {
        String path = "/" + type + "?" + name + "=" + QueryText.encode(value.get());
        assertThat(answers.matches(path)).as(path).contains(type + "/" + one.get("id").asText());
        return true;
      }
    }
    return false;
  }

  private static Optional<String> value(JsonNode resource, String name) {
    return switch (name) {
      case "_id" -> Optional.of(resource.get("id").asText());
      case "_lastUpdated" -> Optional.of(resource.at("/meta/lastUpdated").asText());
      case "identifier" ->
          resource.has("identifier")
              ? Optional.of(
                  resource.at("/identifier/0/system").asText()
                      + "|"
                      + resource.at("/identifier/0/value").asText())
              : Optional.empty();
      case "patient", "subject" ->
          Set.of("Provenance", "AuditEvent").contains(resource.get("resourceType").asText())
              ? Optional.of(firstPatient(resource))
              : Optional.of(
                  resource.at("/subject/reference").asText()
                      + resource.at("/patient/reference").asText());
      default ->
          SearchValues.of(FhirJson.parse(resource.toString())).stream()
              .filter(value -> value.parameter().equals(name))
              .map(CapabilityExerciseTest::shown)
              .findFirst();
    };
  }

  private static String firstPatient(JsonNode resource) {
    for (JsonNode reference : resource.findValues("reference")) {
      if (reference.asText().startsWith("Patient/")) {
        return reference.asText();
      }
    }
    throw new AssertionError("No Patient is named by " + resource);
  }

  private static String shown(SearchValue value) {
    return value instanceof Coded code
        ? (code.system().isEmpty() ? "" : code.system() + "|") + code.value()
        : "ge" + Instant.ofEpochMilli(((Dated) value).low());
  }

  @Test
  void every_include_is_followed() throws Exception {
    int followed = 0;
    for (JsonNode resource : rest().get("resource")) {
      String type = resource.get("type").asText();
      for (JsonNode include : resource.path("searchInclude")) {
        followed += included("/" + type + "?_count=100&_include=" + include.asText());
      }
      for (JsonNode include : resource.path("searchRevInclude")) {
        followed += included("/" + type + "?_count=100&_revinclude=" + include.asText());
      }
    }
    assertThat(followed).isGreaterThan(40);
  }

  private int included(String path) throws Exception {
    return Answers.resources(answers.get(path), "include").isEmpty() ? 0 : 1;
  }

  @Test
  void every_operation_is_there() throws Exception {
    JsonNode rest = rest();
    for (JsonNode operation : rest.path("operation")) {
      there("/$" + operation.get("name").asText());
    }
    for (JsonNode resource : rest.get("resource")) {
      String type = resource.get("type").asText();
      for (JsonNode operation : resource.path("operation")) {
        String name = "/$" + operation.get("name").asText();
        boolean onInstance = !missing(server.get(instance(type) + name).statusCode());
        boolean onType =
            !missing(server.get("/" + type + name).statusCode())
                || !missing(
                    server.post("/" + type + name, "application/fhir+json", "{}").statusCode());
        assertThat(onInstance || onType).as(type + name).isTrue();
      }
    }
  }

  private String instance(String type) throws Exception {
    // Reports and their lists are parts of answers and nowhere else.
    return switch (type) {
      case "MeasureReport", "List" -> "/" + type + "/x";
      default -> address(type);
    };
  }

  private void there(String path) throws Exception {
    HttpResponse<String> response = server.get(path);
    assertThat(missing(response.statusCode())).as(path + response.body()).isFalse();
  }

  private static boolean missing(int status) {
    return status == 404 || status == 405 || status == 500;
  }

  @Test
  void a_type_that_is_searched_states_its_parameters() throws Exception {
    for (JsonNode resource : rest().get("resource")) {
      Set<String> codes = new TreeSet<>();
      resource.path("interaction").forEach(one -> codes.add(one.get("code").asText()));
      assertThat(resource.has("searchParam"))
          .as(resource.get("type").asText())
          .isEqualTo(codes.contains("search-type"));
    }
  }

  @Test
  void flags_have_no_versions_and_say_so() throws Exception {
    for (JsonNode resource : rest().get("resource")) {
      if (resource.get("type").asText().equals("Flag")) {
        assertThat(resource.get("versioning").asText()).isEqualTo("no-version");
        assertThat(resource.get("conditionalRead").asText()).isEqualTo("modified-since");
        assertThat(resource.get("readHistory").asBoolean()).isFalse();
        return;
      }
    }
    throw new AssertionError("Flag is not stated");
  }
}
