package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import indwell.docs.PrettyJson;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * The CapabilityStatement of {@code fhir-profiles} claims what the running one claims. {@code
 * -Dindwell.golden.write=true} writes those claims into it.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class CapabilityFileTest {
  private static final Path FILE = Path.of("fhir-profiles/CapabilityStatement-indwell.json");
  private static final ObjectMapper JSON = new ObjectMapper();

  /** What both have; the rest is about the one that runs, or about the file. */
  private static final List<String> CLAIMS = List.of("fhirVersion", "format", "rest");

  private static JsonNode running() throws Exception {
    try (FhirServer server = new FhirServer()) {
      return new Answers(server).get("/metadata");
    }
  }

  @Test
  void the_file_claims_what_the_running_statement_claims() throws Exception {
    JsonNode running = running();
    ObjectNode file = (ObjectNode) JSON.readTree(FILE.toFile());
    if (Boolean.getBoolean("indwell.golden.write")) {
      CLAIMS.forEach(claim -> file.set(claim, running.get(claim)));
      file.set("instantiates", others(running, file));
      Files.writeString(FILE, PrettyJson.of(file) + "\n");
    }
    for (String claim : CLAIMS) {
      assertThat(file.get(claim)).as(claim).isEqualTo(running.get(claim));
    }
    assertThat(file.get("instantiates")).isEqualTo(others(running, file));
    assertThat(running.get("instantiates")).contains(file.get("url"));
    assertThat(file.get("kind").asText()).isEqualTo("capability");
    assertThat(Files.readString(FILE)).isEqualTo(PrettyJson.of(file) + "\n");
  }

  /** A statement does not instantiate itself. */
  private static ArrayNode others(JsonNode running, JsonNode file) {
    ArrayNode others = JSON.createArrayNode();
    running
        .get("instantiates")
        .forEach(
            one -> {
              if (!one.equals(file.get("url"))) {
                others.add(one);
              }
            });
    return others;
  }

  /** Every canonical of ours that the statement names is a file. */
  @Test
  void what_the_statement_names_is_published() throws Exception {
    JsonNode statement = running();
    statement.findValues("definition").forEach(one -> published(one.asText()));
    statement
        .findValues("supportedProfile")
        .forEach(all -> all.forEach(one -> published(one.asText())));
    statement.get("instantiates").forEach(one -> published(one.asText()));
    assertThat(statement.findValuesAsText("definition"))
        .contains(
            "http://hl7.org/fhir/OperationDefinition/Resource-validate",
            "http://hl7.org/fhir/uv/bulkdata/OperationDefinition/export",
            "http://hl7.org/fhir/uv/bulkdata/OperationDefinition/patient-export",
            "http://hl7.org/fhir/uv/bulkdata/OperationDefinition/group-export");
  }

  private static void published(String canonical) {
    String base = "https://indwell.example/fhir/";
    if (canonical.startsWith(base)) {
      String name = canonical.substring(base.length()).replaceFirst("/", "-") + ".json";
      assertThat(Path.of("fhir-profiles", name)).exists();
    }
  }
}
