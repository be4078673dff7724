package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.contract.SharedValidator;
import indwell.port.ProfileValidator;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** A single resource is created, corrected and taken back. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ChangeTest {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final ProfileValidator VALIDATOR = SharedValidator.WARM;
  private static final String ONCE = "identifier=urn:example:chart%7CW-1";

  private FhirServer server;

  @BeforeEach
  void start() throws Exception {
    server = new FhirServer(VALIDATOR);
    server.post("", "application/fhir+json", SentBundles.insertion());
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
  }

  @Test
  void a_resource_is_created_once() throws Exception {
    HttpResponse<String> created = post("70");
    HttpResponse<String> again = post("70");
    HttpResponse<String> other = post("71");

    assertThat(created.statusCode()).as(created.body()).isEqualTo(201);
    String location = created.headers().firstValue("Location").orElseThrow();
    assertThat(location).startsWith(server.base() + "/Observation/").endsWith("/_history/1");
    assertThat(again.statusCode()).isEqualTo(200);
    assertThat(again.body()).isEqualTo(created.body());
    assertThat(other.statusCode()).isEqualTo(409);
    assertThat(other.body()).contains("IND-0259");
  }

  @Test
  void what_is_there_is_given_where_it_is_to_be_created_only_once() throws Exception {
    HttpResponse<String> first = send("POST", "/Observation", weight("70"), "If-None-Exist", ONCE);
    HttpResponse<String> second = send("POST", "/Observation", weight("71"), "If-None-Exist", ONCE);

    assertThat(first.statusCode()).as(first.body()).isEqualTo(201);
    assertThat(second.statusCode()).as(second.body()).isEqualTo(200);
    assertThat(second.body()).isEqualTo(first.body());
  }

  @Test
  void a_correction_is_a_higher_version_of_the_version_that_was_read() throws Exception {
    String created = post("70").body();
    String path = "/Observation/" + JSON.readTree(created).get("id").asText();

    HttpResponse<String> corrected =
        send("PUT", path, created.replace("\"value\":70", "\"value\":71"), "If-Match", "W/\"1\"");
    HttpResponse<String> late =
        send("PUT", path, created.replace("\"value\":70", "\"value\":72"), "If-Match", "W/\"1\"");

    assertThat(corrected.statusCode()).as(corrected.body()).isEqualTo(200);
    JsonNode weight = JSON.readTree(server.get(path).body());
    assertThat(weight.at("/valueQuantity/value").asInt()).isEqualTo(71);
    assertThat(weight.at("/meta/versionId").asText()).isEqualTo("2");
    assertThat(late.statusCode()).isEqualTo(412);
    assertThat(late.body()).contains("IND-0260");
  }

  @Test
  void a_resource_is_corrected_and_taken_back_by_its_identifier() throws Exception {
    post("70");

    HttpResponse<String> corrected = send("PUT", "/Observation?" + ONCE, weight("71"));
    HttpResponse<String> deleted = send("DELETE", "/Observation?" + ONCE, "");
    HttpResponse<String> again = send("DELETE", "/Observation?" + ONCE, "");

    assertThat(corrected.statusCode()).as(corrected.body()).isEqualTo(200);
    assertThat(deleted.statusCode()).as(deleted.body()).isEqualTo(204);
    assertThat(again.statusCode()).isEqualTo(204);
    String path = "/Observation/" + JSON.readTree(corrected.body()).get("id").asText();
    assertThat(server.get(path).body())
        .contains("\"status\":\"entered-in-error\"", "\"value\":71", "\"versionId\":\"3\"");
  }

  /** Source: https://hl7.org/fhir/R4/http.html#update */
  @Test
  void a_body_whose_id_is_not_that_of_the_URL_is_no_update() throws Exception {
    String created = post("70").body();
    String id = JSON.readTree(created).get("id").asText();
    String without = created.replace("\"id\":\"" + id + "\",", "");
    String other = created.replace("\"id\":\"" + id + "\",", "\"id\":\"other\",");

    HttpResponse<String> nameless = send("PUT", "/Observation/" + id, without);
    HttpResponse<String> differing = send("PUT", "/Observation/" + id, other);

    assertThat(nameless.statusCode()).as(nameless.body()).isEqualTo(400);
    assertThat(nameless.body())
        .contains("IND-0267", "The resource has no id; expected \\\"" + id + "\\\" as in the URL.")
        .contains("\"expression\":[\"Observation.id\"]");
    assertThat(differing.statusCode()).as(differing.body()).isEqualTo(400);
    assertThat(differing.body())
        .contains(
            "IND-0267", "The id is \\\"other\\\"; expected \\\"" + id + "\\\" as in the URL.");
    assertThat(server.get("/Observation/" + id).body()).contains("\"versionId\":\"1\"");
  }

  /** Source: https://hl7.org/fhir/R4/http.html#cond-update */
  @Test
  void an_update_by_an_identifier_needs_no_id_and_takes_no_other_than_that_of_the_match()
      throws Exception {
    String created = post("70").body();
    String id = JSON.readTree(created).get("id").asText();
    String own = weight("71").replaceFirst("[{]", "{\"id\":\"" + id + "\",");

    HttpResponse<String> nameless = send("PUT", "/Observation?" + ONCE, weight("71"));
    HttpResponse<String> same = send("PUT", "/Observation?" + ONCE, own);
    HttpResponse<String> other =
        send("PUT", "/Observation?" + ONCE, own.replace("\"id\":\"" + id, "\"id\":\"other"));

    assertThat(nameless.statusCode()).as(nameless.body()).isEqualTo(200);
    assertThat(same.statusCode()).as(same.body()).isEqualTo(200);
    assertThat(other.statusCode()).as(other.body()).isEqualTo(400);
    assertThat(other.body())
        .contains(
            "IND-0267", "The id is \\\"other\\\"; expected \\\"" + id + "\\\" as of the match.");
  }

  @Test
  void a_finding_stands_at_its_place_in_the_resource() throws Exception {
    HttpResponse<String> answer =
        send("POST", "/Observation", weight("70").replace("\"kg\"", "\"[lb_av]\""));

    assertThat(answer.statusCode()).isEqualTo(422);
    assertThat(JSON.readTree(answer.body()).at("/issue/0/expression/0").asText())
        .startsWith("Observation.value");
  }

  private HttpResponse<String> post(String kg) throws Exception {
    return send("POST", "/Observation", weight(kg));
  }

  private static String weight(String kg) {
    return SentBundles.weight(
            "W-1", "2026-03-02T08:00:00Z", "kg", "Patient?identifier=urn:example:mrn|4711")
        .replace("\"value\":70", "\"value\":" + kg);
  }

  private HttpResponse<String> send(String method, String path, String body, String... headers)
      throws Exception {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create(server.base() + path))
            .header("Content-Type", "application/fhir+json")
            .method(
                method, body.isEmpty() ? BodyPublishers.noBody() : BodyPublishers.ofString(body));
    if (headers.length > 0) {
      request.headers(headers);
    }
    return HttpClient.newHttpClient().send(request.build(), BodyHandlers.ofString());
  }
}
