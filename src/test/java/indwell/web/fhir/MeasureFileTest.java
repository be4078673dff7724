package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** The reports of {@code $device-days} are of the Measure of {@code fhir-profiles}. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class MeasureFileTest {

  @Test
  void the_reports_have_the_groups_and_populations_of_the_measure() throws Exception {
    JsonNode measure =
        new ObjectMapper()
            .readTree(Path.of("fhir-profiles/Measure-catheter-device-days.json").toFile());
    try (FhirServer server = new FhirServer()) {
      server.recordStay();
      JsonNode bundle = new Answers(server).get("/$device-days?start=2026-03-01&end=2026-03-09");
      List<JsonNode> reports = new ArrayList<>();
      for (JsonNode entry : bundle.get("entry")) {
        JsonNode resource = entry.get("resource");
        switch (resource.get("resourceType").asText()) {
          case "MeasureReport" -> reports.add(resource);
          case "Measure" -> assertThat(resource).isEqualTo(measure);
          default -> {}
        }
      }
      assertThat(reports).isNotEmpty();
      for (JsonNode report : reports) {
        assertThat(report.get("measure").asText())
            .isEqualTo(measure.get("url").asText() + "|" + measure.get("version").asText());
        assertThat(report.at("/improvementNotation/coding/0/code"))
            .isEqualTo(measure.at("/improvementNotation/coding/0/code"));
        assertThat(populations(report)).isEqualTo(populations(measure));
        assertThat(report.at("/group/0").has("measureScore")).isTrue();
      }
    }
  }

  /** Of each group the codes of its populations, in their order. */
  private static List<List<String>> populations(JsonNode resource) {
    List<List<String>> groups = new ArrayList<>();
    for (JsonNode group : resource.get("group")) {
      List<String> codes = new ArrayList<>();
      group.get("population").forEach(one -> codes.add(one.at("/code/coding/0/code").asText()));
      groups.add(codes);
    }
    return groups;
  }
}
