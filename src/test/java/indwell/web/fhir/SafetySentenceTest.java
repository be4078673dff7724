package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.nio.file.Path;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Whoever reads what a flag or a day means, reads there what it is not (README, the same). */
@DisplayNameGeneration(ReplaceUnderscores.class)
class SafetySentenceTest {
  private static final String SENTENCE =
      "Indwell supports, and never replaces, clinical judgement; local policy and licensed practice"
          + " decide. What it points out is a candidate for review by a person, never a diagnosis.";

  @Test
  void the_running_statement_of_capabilities_says_it() throws Exception {
    try (FhirServer server = new FhirServer()) {
      JsonNode statement = new Answers(server).get("/metadata");

      assertThat(statement.path("description").asText()).endsWith(SENTENCE);
      assertThat(statement.at("/implementation/description").asText()).isNotEmpty();
    }
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "CapabilityStatement-indwell",
        "OperationDefinition-overdue",
        "OperationDefinition-catheter-days",
        "CodeSystem-catheter-flag"
      })
  void what_defines_flags_and_days_says_it(String name) throws Exception {
    JsonNode resource =
        new ObjectMapper().readTree(Path.of("fhir-profiles", name + ".json").toFile());

    assertThat(resource.path("description").asText()).endsWith(" " + SENTENCE);
  }
}
