package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Parts of resources (https://hl7.org/fhir/R4/search.html#elements and #summary). */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ShapeTest {
  private static FhirServer server;
  private static Answers answers;

  @BeforeAll
  static void start() throws Exception {
    server = new FhirServer();
    answers = new Answers(server);
    server.recordStay();
  }

  @AfterAll
  static void stop() throws Exception {
    server.close();
  }

  private static String address(String type) throws Exception {
    return "/" + answers.matches("/" + type).get(0);
  }

  private static Set<String> names(JsonNode resource) {
    Set<String> names = new TreeSet<>();
    resource.fieldNames().forEachRemaining(names::add);
    return names;
  }

  /** Code and system: https://hl7.org/fhir/R4/v3/ObservationValue/cs.html */
  private static boolean isTagged(JsonNode resource) {
    List<String> tags = new ArrayList<>();
    resource
        .at("/meta/tag")
        .forEach(tag -> tags.add(tag.get("system").asText() + "|" + tag.get("code").asText()));
    return tags.equals(
        List.of("http://terminology.hl7.org/CodeSystem/v3-ObservationValue|SUBSETTED"));
  }

  /** What is mandatory in R4 and what modifies: status and subject of a Procedure. */
  @Test
  void elements_are_those_asked_for_with_the_mandatory_ones() throws Exception {
    JsonNode whole = answers.get(address("Procedure"));
    JsonNode part = answers.get(address("Procedure") + "?_elements=performed,code");

    assertThat(names(part))
        .containsExactly(
            "code", "id", "meta", "performedDateTime", "resourceType", "status", "subject");
    assertThat(isTagged(part)).isTrue();
    assertThat(part.get("performedDateTime")).isEqualTo(whole.get("performedDateTime"));
    assertThat(part.at("/meta/profile")).isEqualTo(whole.at("/meta/profile"));
    assertThat(part.at("/meta/versionId")).isEqualTo(whole.at("/meta/versionId"));
  }

  @ParameterizedTest
  @CsvSource({"performed", "performed[x]", "performedDateTime"})
  void a_choice_of_types_is_named_in_three_ways(String name) throws Exception {
    String path = address("Procedure") + "?_elements=" + QueryText.encode(name);

    assertThat(names(answers.get(path))).contains("performedDateTime").doesNotContain("code");
  }

  /** Device.status is optional in R4, but tells whether the rest is to be believed. */
  @Test
  void what_changes_the_meaning_of_the_rest_is_never_left_out() throws Exception {
    assertThat(names(answers.get(address("Device") + "?_elements=identifier")))
        .containsExactly("id", "identifier", "meta", "resourceType", "status");
  }

  @Test
  void extensions_are_an_element_of_their_own() throws Exception {
    assertThat(names(answers.get(address("Encounter") + "?_elements=identifier")))
        .doesNotContain("extension");
    assertThat(names(answers.get(address("Encounter") + "?_elements=extension")))
        .contains("extension");
  }

  @Test
  void a_search_gives_the_elements_of_its_matches_and_includes_whole_resources() throws Exception {
    JsonNode bundle =
        answers.get("/Procedure?_elements=code&_include=Procedure:patient&_elements=identifier");

    JsonNode match = Answers.resources(bundle, "match").get(0);
    JsonNode included = Answers.resources(bundle, "include").get(0);
    assertThat(names(match))
        .containsExactly("code", "id", "identifier", "meta", "resourceType", "status", "subject");
    assertThat(isTagged(match)).isTrue();
    assertThat(isTagged(included)).isFalse();
    assertThat(bundle.at("/link/0/url").asText())
        .contains("_elements=code", "_elements=identifier");
  }

  @Test
  void pages_keep_the_elements() throws Exception {
    JsonNode first = answers.get("/Observation?_elements=code&_count=1");
    server.record(
        FhirServer.event("w2", "weight-measured", "2026-03-02T10:00:00+01:00", "\"kg\":71"));
    first = answers.get("/Observation?_elements=code&_count=1");
    JsonNode second = answers.get(answers.next(first).orElseThrow());

    assertThat(names(Answers.resources(second, "match").get(0))).doesNotContain("subject");
  }

  /** R4 marks the elements: of an Encounter not its locations, of a Provenance not its agents. */
  @Test
  void a_summary_has_the_elements_that_r4_marks_and_the_mandatory_ones() throws Exception {
    JsonNode encounter = answers.get(address("Encounter") + "?_summary=true");
    JsonNode provenance = answers.get(address("Provenance") + "?_summary=true");

    assertThat(names(encounter))
        .containsExactly("class", "id", "identifier", "meta", "resourceType", "status", "subject");
    assertThat(names(provenance))
        .containsExactly("agent", "id", "meta", "recorded", "resourceType", "target");
    assertThat(isTagged(encounter)).isTrue();
  }

  @Test
  void a_text_has_what_has_to_be_there_and_data_has_all() throws Exception {
    JsonNode text = answers.get(address("Procedure") + "?_summary=text");
    JsonNode data = answers.get(address("Procedure") + "?_summary=data");
    JsonNode whole = answers.get(address("Procedure"));

    assertThat(names(text)).containsExactly("id", "meta", "resourceType", "status", "subject");
    assertThat(names(data)).isEqualTo(names(whole));
    assertThat(isTagged(text)).isTrue();
    assertThat(isTagged(data)).isTrue();
    assertThat(isTagged(answers.get(address("Procedure") + "?_summary=false"))).isFalse();
  }

  @Test
  void a_search_has_the_same_summaries_and_the_number_alone() throws Exception {
    for (String summary : List.of("true", "text", "data")) {
      JsonNode bundle = answers.get("/Flag?_summary=" + summary);
      assertThat(Answers.resources(bundle, "match")).isNotEmpty().allMatch(ShapeTest::isTagged);
    }
    assertThat(answers.get("/Flag?_summary=count").has("entry")).isFalse();
  }

  /** 4 decimals in, 4 decimals out: a part never rounds. */
  @Test
  void numbers_stay_as_they_are_written() throws Exception {
    server.record(
        FhirServer.event("w3", "weight-measured", "2026-03-03T10:00:00+01:00", "\"kg\":70.1234"));

    HttpResponse<String> answer = server.get("/Observation?date=2026-03-03&_elements=value");

    assertThat(answer.body()).contains("\"value\":70.1234");
  }

  @Test
  void a_version_is_given_in_part() throws Exception {
    assertThat(isTagged(answers.get(address("Device") + "/_history/1?_elements=type"))).isTrue();
  }

  @ParameterizedTest
  @CsvSource({
    "?_elements=colour, 400, colour",
    "?_elements=, 400, expected",
    "?_elements=location.period, 400, location.period",
    "?_elements=code&_summary=true, 400, _elements",
    "?_summary=some, 400, some",
    "?_summary=true&_summary=true, 400, 2 times",
    "?_summary=text&_include=Procedure:patient, 400, _include"
  })
  void what_cannot_be_is_named(String query, int status, String named) throws Exception {
    HttpResponse<String> answer = server.get("/Procedure" + query);

    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(status);
    assertThat(Answers.read(answer.body()).at("/issue/0/diagnostics").asText())
        .contains(named, "expected");
  }

  @Test
  void a_read_has_no_number_and_no_other_parameter() throws Exception {
    assertThat(server.get(address("Device") + "?_summary=count").statusCode()).isEqualTo(400);
    assertThat(server.get(address("Device") + "?_count=1").statusCode()).isEqualTo(400);
  }

  @Test
  void a_part_keeps_the_entity_tag() throws Exception {
    assertThat(server.get(address("Device") + "?_elements=type").headers().firstValue("ETag"))
        .hasValue("W/\"1\"");
    assertThat(
            server
                .get(address("Device") + "?_elements=type", "If-None-Match", "W/\"1\"")
                .statusCode())
        .isEqualTo(304);
  }

  /** That is what the tag is for (R4, search.html#summary). */
  @Test
  void a_part_is_not_taken_for_the_whole() throws Exception {
    String address = address("Procedure");
    String part = server.get(address + "?_elements=code").body();

    HttpResponse<String> put = server.put(address, part);
    HttpResponse<String> counted =
        server.post(
            "/$device-days?start=2026-03-01&end=2026-03-02", "application/fhir+ndjson", part);

    assertThat(put.statusCode()).as(put.body()).isEqualTo(422);
    assertThat(put.body()).contains("IND-0252", "SUBSETTED");
    assertThat(counted.statusCode()).as(counted.body()).isEqualTo(422);
    assertThat(counted.body()).contains("IND-0341", "SUBSETTED");
  }
}
