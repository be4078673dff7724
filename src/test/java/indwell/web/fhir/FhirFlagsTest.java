package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Flags as resources: active ones of now and past ones (contract, section 3, operations). The clock
 * stands at 2026-03-10T12:00Z, 13:00 in Berlin.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class FhirFlagsTest {
  private static final ObjectMapper JSON = new ObjectMapper();
  private FhirServer server;

  @BeforeEach
  void start() throws Exception {
    server = new FhirServer();
    server.recordStay();
    server.record(
        FhirServer.event(
            "e5",
            "need-reviewed",
            "2026-03-04T10:00:00+01:00",
            "\"catheterId\":\"c1\",\"stillNeeded\":true,\"indication\":\"acute-retention\""));
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
  }

  private JsonNode json(String path) throws Exception {
    HttpResponse<String> response = server.get(path);
    assertThat(response.statusCode()).as(path + ": " + response.body()).isEqualTo(200);
    return JSON.readTree(response.body());
  }

  private List<JsonNode> flags(String query) throws Exception {
    List<JsonNode> flags = new ArrayList<>();
    json("/Flag" + query).path("entry").forEach(entry -> flags.add(entry.get("resource")));
    return flags;
  }

  private static String code(JsonNode flag) {
    return flag.at("/code/coding/0/code").asText();
  }

  @Test
  void the_active_flags_are_those_that_are_overdue_now() throws Exception {
    List<String> active = flags("?status=active").stream().map(f -> f.get("id").asText()).toList();
    List<String> overdue = new ArrayList<>();
    json("/$overdue")
        .path("entry")
        .forEach(
            entry -> {
              if (entry.at("/resource/resourceType").asText().equals("Flag")) {
                overdue.add(entry.at("/resource/id").asText());
              }
            });
    assertThat(active).isNotEmpty().containsExactlyInAnyOrderElementsOf(overdue);
  }

  /** Overdue from noon of 2 March until the review of 4 March, and again from noon of 5 March. */
  @Test
  void a_review_ends_one_flag_and_the_next_noon_begins_another() throws Exception {
    List<JsonNode> reviews = flags("?code=need-review-overdue&_sort=date");
    assertThat(reviews).hasSize(2);
    JsonNode past = reviews.get(0);
    assertThat(past.get("status").asText()).isEqualTo("inactive");
    assertThat(past.at("/period/start").asText()).isEqualTo("2026-03-02T12:00:00+01:00");
    assertThat(past.at("/period/end").asText()).isEqualTo("2026-03-04T10:00:00+01:00");
    JsonNode active = reviews.get(1);
    assertThat(active.get("status").asText()).isEqualTo("active");
    assertThat(active.at("/period/start").asText()).isEqualTo("2026-03-05T12:00:00+01:00");
    assertThat(active.at("/period").has("end")).isFalse();
  }

  @Test
  void a_flag_claims_its_profile_and_was_last_updated_when_its_facts_were_written()
      throws Exception {
    JsonNode flag = flags("?status=active").get(0);
    assertThat(flag.at("/meta/profile/0").asText())
        .isEqualTo("https://indwell.example/fhir/StructureDefinition/catheter-flag");
    assertThat(flag.at("/meta").has("versionId")).isFalse();
    assertThat(java.time.Instant.parse(flag.at("/meta/lastUpdated").asText()))
        .isEqualTo(FhirServer.NOW);
  }

  @Test
  void every_flag_of_a_search_can_be_read_by_its_id() throws Exception {
    List<JsonNode> all = flags("");
    assertThat(all).isNotEmpty();
    for (JsonNode flag : all) {
      HttpResponse<String> read = server.get("/Flag/" + flag.get("id").asText());
      assertThat(read.statusCode()).isEqualTo(200);
      assertThat(JSON.readTree(read.body())).isEqualTo(flag);
      assertThat(read.headers().firstValue("ETag")).isEmpty();
      assertThat(read.headers().firstValue("Last-Modified"))
          .hasValue("Tue, 10 Mar 2026 12:00:00 GMT");
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"nobody", "abc-def", "-", "aaaaaaaaaaaaaaaaaaaaaaaaaa-b"})
  void an_id_that_no_flag_has_is_not_found(String id) throws Exception {
    assertThat(server.get("/Flag/" + id).statusCode()).isEqualTo(404);
  }

  @ParameterizedTest
  @ValueSource(strings = {"/_history", "/x/_history", "/x/_history/1"})
  void flags_have_no_history(String path) throws Exception {
    HttpResponse<String> response = server.get("/Flag" + path);
    assertThat(response.statusCode()).isEqualTo(404);
    assertThat(JSON.readTree(response.body()).at("/issue/0/details/coding/0/code").asText())
        .isEqualTo("IND-0242");
  }

  @ParameterizedTest
  @CsvSource(
      delimiterString = " -> ",
      value = {
        "status=active -> active",
        "status=http://hl7.org/fhir/flag-status%7Cactive -> active",
        "status:not=active -> inactive",
        "date=sa2026-03-05T11:59 -> active",
        "status=inactive&code=need-review-overdue -> inactive",
        "status=active&code=need-review-overdue,care-check-overdue -> active"
      })
  void a_search_gives_flags_of_one_status(String query, String status) throws Exception {
    assertThat(flags("?" + query))
        .isNotEmpty()
        .allSatisfy(flag -> assertThat(flag.get("status").asText()).isEqualTo(status));
  }

  @Test
  void flags_are_found_by_patient_device_and_id() throws Exception {
    JsonNode one = flags("").get(0);
    int all = flags("").size();
    String patient = one.at("/subject/reference").asText();
    String device = one.at("/extension/0/valueReference/reference").asText();
    assertThat(flags("?patient=" + patient)).hasSize(all);
    assertThat(flags("?subject=" + patient)).hasSize(all);
    assertThat(flags("?patient.identifier=urn:test:mrn%7Cp1")).hasSize(all);
    assertThat(flags("?patient.identifier=urn:test:mrn%7Cp2")).isEmpty();
    assertThat(flags("?focus-device=" + device)).hasSize(all);
    assertThat(flags("?focus-device=Device/none")).isEmpty();
    assertThat(flags("?category=safety")).hasSize(all);
    assertThat(flags("?_id=" + one.get("id").asText())).containsExactly(one);
    assertThat(flags("?_lastUpdated=le2026-03-10")).hasSize(all);
    assertThat(flags("?_lastUpdated=lt2026-03-10")).isEmpty();
  }

  @Test
  void pages_hold_every_flag_once() throws Exception {
    List<JsonNode> all = flags("");
    for (String sort : List.of("_id", "-_id", "date", "-date", "_lastUpdated")) {
      List<JsonNode> seen = new ArrayList<>();
      String next = "/Flag?_count=2&_sort=" + sort;
      while (!next.isEmpty()) {
        JsonNode bundle = json(next);
        bundle.path("entry").forEach(entry -> seen.add(entry.get("resource")));
        next = "";
        for (JsonNode link : bundle.get("link")) {
          if (link.get("relation").asText().equals("next")) {
            next = link.get("url").asText().substring(server.base().length());
          }
        }
      }
      assertThat(seen).as(sort).containsExactlyInAnyOrderElementsOf(all);
    }
  }

  @Test
  void the_patient_and_the_catheter_can_be_included() throws Exception {
    JsonNode bundle = json("/Flag?status=active&_include=Flag:patient&_include=Flag:focus-device");
    List<String> included = new ArrayList<>();
    bundle
        .get("entry")
        .forEach(
            entry -> {
              if (entry.at("/search/mode").asText().equals("include")) {
                included.add(entry.at("/resource/resourceType").asText());
              }
            });
    assertThat(included).containsExactlyInAnyOrder("Patient", "Device");
  }

  @Test
  void a_withdrawn_review_makes_the_flag_before_it_active_again() throws Exception {
    server.record(
        FhirServer.event("e5", "need-reviewed", "2026-03-04T10:00:00+01:00", "")
            .replace("\"details\":{}", "\"version\":2,\"status\":\"entered-in-error\""));
    List<JsonNode> reviews = flags("?code=need-review-overdue");
    assertThat(reviews).hasSize(1);
    assertThat(reviews.get(0).get("status").asText()).isEqualTo("active");
    assertThat(code(reviews.get(0))).isEqualTo("need-review-overdue");
  }
}
