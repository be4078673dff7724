package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import indwell.contract.SharedValidator;
import indwell.port.ProfileValidator;
import indwell.port.ProfileValidator.Finding;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * The Group of a ward. Its members are those whom an export of it is about, so that whoever left is
 * one as well; the inactive ones say so (https://hl7.org/fhir/R4/group-definitions.html).
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class WardGroupTest {
  private static final ProfileValidator VALIDATOR = SharedValidator.WARM;
  private FhirServer server;
  private Answers answers;

  @BeforeEach
  void start() throws Exception {
    server = new FhirServer();
    answers = new Answers(server);
    server.recordStay();
    server.record(
        of("p2", "f1", "patient-admitted", "2026-03-01T08:00:00Z", "\"ward\":\"A-1\""),
        of("p2", "f2", "patient-transferred", "2026-03-03T08:00:00Z", "\"ward\":\"B-2\""),
        of("p3", "f3", "patient-admitted", "2026-03-01T08:00:00Z", "\"ward\":\"A-1\""),
        of("p3", "f4", "patient-discharged", "2026-03-10T12:00:00Z", ""),
        of("p4", "f5", "patient-admitted", "2026-03-10T12:00:00Z", "\"ward\":\"A-1\""));
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
  }

  private static String of(String patient, String id, String type, String at, String details) {
    return FhirServer.event(id, type, at, details)
        .replace("\"p1\"", "\"" + patient + "\"")
        .replace("\"s1\"", "\"s-" + patient + "\"");
  }

  private String patient(String number) throws Exception {
    return answers.matches("/Patient?identifier=urn:test:mrn%7C" + number).get(0);
  }

  private static List<String> members(JsonNode group) {
    List<String> members = new ArrayList<>();
    for (JsonNode member : group.path("member")) {
      members.add(
          member.at("/entity/reference").asText()
              + (member.get("inactive").asBoolean() ? " left" : ""));
    }
    return members;
  }

  @Test
  void the_statement_of_capabilities_says_of_a_Group_what_works() throws Exception {
    JsonNode group = JsonNodeFactory.instance.missingNode();
    for (JsonNode one : answers.get("/metadata").at("/rest/0/resource")) {
      group = one.get("type").asText().equals("Group") ? one : group;
    }

    assertThat(group.path("interaction").findValuesAsText("code"))
        .containsExactlyInAnyOrder("read", "search-type");
    assertThat(group.path("operation").findValuesAsText("name")).contains("export");
    assertThat(group.path("documentation").asText())
        .contains("can be read, searched and exported")
        .contains("has no versions");
    assertThat(server.get("/Group/A-1").statusCode()).isEqualTo(200);
    assertThat(server.get("/Group?_id=A-1").body()).contains("\"total\":1");
    assertThat(server.get("/Group/A-1/_history").statusCode()).isEqualTo(404);
  }

  /** Who leaves at the very moment is gone, who comes at it is there (contract, section 4). */
  @Test
  void members_are_all_who_ever_were_there_and_those_who_left_are_inactive() throws Exception {
    JsonNode group = answers.get("/Group/A-1");

    assertThat(members(group))
        .containsExactlyInAnyOrder(
            patient("p1"), patient("p2") + " left", patient("p3") + " left", patient("p4"));
    assertThat(group.get("quantity").asInt()).isEqualTo(2);
    assertThat(group.get("actual").asBoolean()).isTrue();
    assertThat(group.get("type").asText()).isEqualTo("person");
    assertThat(group.at("/characteristic/0/valueReference/reference").asText())
        .isEqualTo("Location/A-1");
    assertThat(members(answers.get("/Group/B-2"))).containsExactly(patient("p2"));
  }

  @Test
  void a_group_is_of_now() throws Exception {
    server.advance(Duration.ofHours(1));
    server.record(of("p4", "f6", "patient-discharged", "2026-03-10T12:30:00Z", ""));

    assertThat(members(answers.get("/Group/A-1"))).contains(patient("p4") + " left");
  }

  @Test
  void a_group_meets_its_profile() throws Exception {
    for (JsonNode one : Answers.resources(answers.get("/Group"), "match")) {
      byte[] json = one.toString().getBytes(StandardCharsets.UTF_8);
      assertThat(one.at("/meta/profile/0").asText()).endsWith("/catheter-ward-group");
      assertThat(VALIDATOR.validate(json).stream().filter(Finding::isError).map(Finding::line))
          .isEmpty();
    }
  }

  @Test
  void groups_are_found_by_ward_and_id_and_page_by_page() throws Exception {
    assertThat(answers.matches("/Group")).containsExactly("Group/A-1", "Group/B-2");
    assertThat(answers.matches("/Group?_sort=-_id")).containsExactly("Group/B-2", "Group/A-1");
    assertThat(answers.matches("/Group?_id=B-2,C-3")).containsExactly("Group/B-2");
    assertThat(answers.matches("/Group?identifier=https://indwell.example/fhir/ward%7CA-1"))
        .containsExactly("Group/A-1");
    assertThat(answers.matches("/Group?identifier=A-1")).containsExactly("Group/A-1");
    assertThat(answers.matches("/Group?identifier:not=A-1")).containsExactly("Group/B-2");
    assertThat(answers.matches("/Group?identifier=C-3")).isEmpty();
    JsonNode first = answers.get("/Group?_count=1");
    assertThat(first.get("total").asInt()).isEqualTo(2);
    assertThat(answers.matches(answers.next(first).orElseThrow())).containsExactly("Group/B-2");
    assertThat(answers.get("/Group?_summary=count").get("total").asInt()).isEqualTo(2);
  }

  @Test
  void a_group_in_part_may_leave_its_members_out() throws Exception {
    assertThat(answers.get("/Group/A-1?_summary=true").has("member")).isFalse();
    assertThat(answers.get("/Group/A-1?_elements=quantity").has("member")).isFalse();
    assertThat(answers.get("/Group/A-1?_elements=member").has("member")).isTrue();
  }

  @Test
  void a_ward_that_no_event_named_has_no_group() throws Exception {
    server.put(
        "/Location/C-3",
        "{\"resourceType\":\"Location\",\"id\":\"C-3\",\"identifier\":[{\"system\":"
            + "\"https://indwell.example/fhir/ward\",\"value\":\"C-3\"}],\"status\":\"active\","
            + "\"name\":\"C\",\"mode\":\"instance\"}");

    assertThat(server.get("/Group/C-3").statusCode()).isEqualTo(404);
    assertThat(server.get("/Group/C-3/$export").statusCode()).isEqualTo(404);
    assertThat(answers.matches("/Group")).doesNotContain("Group/C-3");
  }

  @Test
  void a_group_has_the_name_of_its_ward() throws Exception {
    server.put(
        "/Location/A-1",
        "{\"resourceType\":\"Location\",\"id\":\"A-1\",\"identifier\":[{\"system\":"
            + "\"https://indwell.example/fhir/ward\",\"value\":\"A-1\"}],\"status\":\"active\","
            + "\"name\":\"North\",\"mode\":\"instance\"}");

    assertThat(answers.get("/Group/A-1").get("name").asText()).isEqualTo("North");
    assertThat(answers.get("/Group/B-2").get("name").asText()).isEqualTo("B-2");
  }

  @Test
  void a_group_has_no_versions_and_no_earlier_answer_stands_for_it() throws Exception {
    HttpResponse<String> read =
        server.get("/Group/A-1", "If-Modified-Since", "Tue, 10 Mar 2026 12:00:00 GMT");

    assertThat(read.statusCode()).isEqualTo(200);
    assertThat(read.headers().firstValue("ETag")).isEmpty();
    assertThat(read.headers().firstValue("Last-Modified")).isEmpty();
    assertThat(server.get("/Group/A-1/_history").body()).contains("IND-0242");
  }
}
