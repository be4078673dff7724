package indwell.oracle;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.adapter.store.memory.MemoryStore;
import indwell.port.ClinicalStore;
import indwell.usecase.UnmappedIntake;
import indwell.web.fhir.AnswersOverHttp;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.EdgeCasesMode;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;

/**
 * The patients behind a sum make up the sum: whatever happened, the reports that the Lists of a
 * ward and month name add up to its summary, and each patient is given the same report when asked
 * for alone.
 */
class SubjectListTest {
  private static final ObjectMapper JSON = new ObjectMapper();

  @Provide
  Arbitrary<History> histories() {
    return RandomHistories.histories();
  }

  @Property(tries = 25, seed = "20261127", edgeCases = EdgeCasesMode.NONE)
  void the_reports_of_the_patients_add_up_to_the_summary(@ForAll("histories") History history)
      throws Exception {
    try (ClinicalStore store = new MemoryStore()) {
      UnmappedIntake.take(store, history.arrivals().stream().map(FactBody::of).toList());
      try (AnswersOverHttp http =
          new AnswersOverHttp(store, ServiceCounters.facility(history), ServiceCounters.NOW)) {
        String range =
            "/$device-days?start=%s&end=%s".formatted(history.firstDate(), history.lastDate());
        List<JsonNode> listed = resources(http, range + "&report-type=subject-list");

        assertThat(sums(ofType(listed, "subject-list"))).isEqualTo(sums(resources(http, range)));
        assertThat(added(listed)).isEqualTo(sums(ofType(listed, "subject-list")));
        assertThat(alone(http, range, listed)).isEqualTo(texts(ofType(listed, "individual")));
      }
    }
  }

  private static List<JsonNode> resources(AnswersOverHttp http, String path) throws Exception {
    List<JsonNode> resources = new ArrayList<>();
    for (JsonNode entry : JSON.readTree(http.get(path, "application/fhir+json")).path("entry")) {
      resources.add(entry.get("resource"));
    }
    return resources;
  }

  private static List<JsonNode> ofType(List<JsonNode> resources, String type) {
    return resources.stream().filter(one -> one.path("type").asText().equals(type)).toList();
  }

  /** Ward and month, and both counts. */
  private static Map<String, String> sums(List<JsonNode> resources) {
    Map<String, String> sums = new TreeMap<>();
    for (JsonNode one : resources) {
      if (one.get("resourceType").asText().equals("MeasureReport")) {
        sums.put(where(one), count(one, 0) + " " + count(one, 1));
      }
    }
    return sums;
  }

  /** The same, added up over the reports that the Lists name. */
  private static Map<String, String> added(List<JsonNode> resources) {
    Map<String, JsonNode> byReference = new HashMap<>();
    resources.forEach(
        one ->
            byReference.put(one.get("resourceType").asText() + "/" + one.path("id").asText(), one));
    Map<String, String> sums = new TreeMap<>();
    for (JsonNode report : ofType(resources, "subject-list")) {
      long[] added = new long[2];
      for (int population = 0; population < 2; population++) {
        String list =
            report.at("/group/0/population/" + population + "/subjectResults/reference").asText();
        for (JsonNode entry : byReference.get(list).path("entry")) {
          JsonNode individual = byReference.get(entry.at("/item/reference").asText());
          assertThat(where(individual)).isEqualTo(where(report));
          assertThat(count(individual, population)).isPositive();
          added[population] += count(individual, population);
        }
      }
      sums.put(where(report), added[0] + " " + added[1]);
    }
    return sums;
  }

  private static Map<String, String> alone(
      AnswersOverHttp http, String range, List<JsonNode> listed) throws Exception {
    Map<String, String> alone = new TreeMap<>();
    for (JsonNode one : ofType(listed, "individual")) {
      String subject = one.at("/subject/reference").asText();
      alone.putAll(
          texts(
              ofType(
                  resources(http, range + "&report-type=individual&subject=" + subject),
                  "individual")));
    }
    return alone;
  }

  private static Map<String, String> texts(List<JsonNode> reports) {
    Map<String, String> texts = new TreeMap<>();
    reports.forEach(one -> texts.put(one.get("id").asText(), one.toString()));
    return texts;
  }

  private static String where(JsonNode report) {
    JsonNode ward = null;
    for (JsonNode extension : report.path("extension")) {
      if (extension.get("url").asText().endsWith("/catheter-report-ward")) {
        ward = extension.at("/extension/0/valueReference/reference");
      }
    }
    assertThat(ward).isNotNull();
    return ward.asText() + " " + report.at("/period/start").asText();
  }

  private static long count(JsonNode report, int population) {
    return report.at("/group/0/population/" + population + "/count").asLong();
  }
}
