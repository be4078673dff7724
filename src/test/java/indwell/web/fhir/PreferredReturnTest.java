package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import indwell.contract.SharedValidator;
import indwell.port.ProfileValidator;
import java.net.http.HttpResponse;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * What a change is answered with, as its caller prefers.
 *
 * <p>Source: https://hl7.org/fhir/R4/http.html#ops and RFC 7240
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PreferredReturnTest {
  private static final ProfileValidator VALIDATOR = SharedValidator.WARM;

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

  private static String weight(String name) {
    return SentBundles.weight(
        name, "2026-03-02T08:00:00Z", "kg", "Patient?identifier=urn:example:mrn|4711");
  }

  private HttpResponse<String> post(String prefer) throws Exception {
    return server.post("/Observation", "application/fhir+json", weight("W-1"), "Prefer", prefer);
  }

  @ParameterizedTest
  @ValueSource(strings = {"return=minimal", "respond-async, Return=\"minimal\"; x=y"})
  void minimal_is_the_head_alone(String prefer) throws Exception {
    HttpResponse<String> created = post(prefer);
    HttpResponse<String> again = post(prefer);

    assertThat(created.statusCode()).isEqualTo(201);
    assertThat(created.body()).isEmpty();
    assertThat(created.headers().firstValue("Content-Type")).isEmpty();
    assertThat(created.headers().firstValue("Location").orElseThrow()).endsWith("/_history/1");
    assertThat(created.headers().firstValue("ETag")).contains("W/\"1\"");
    assertThat(created.headers().firstValue("Last-Modified")).isPresent();
    assertThat(created.headers().firstValue("Preference-Applied")).contains("return=minimal");
    assertThat(again.statusCode()).isEqualTo(200);
    assertThat(again.body()).isEmpty();
  }

  @Test
  void a_representation_is_the_resource_as_without_a_preference() throws Exception {
    HttpResponse<String> created = post("return=representation");
    HttpResponse<String> plain =
        server.post("/Observation", "application/fhir+json", weight("W-1"));

    assertThat(created.body()).contains("\"resourceType\":\"Observation\"").isEqualTo(plain.body());
    assertThat(created.headers().firstValue("Preference-Applied"))
        .contains("return=representation");
    assertThat(plain.headers().firstValue("Preference-Applied")).isEmpty();
  }

  @Test
  void an_outcome_says_what_was_made_and_what_is_not_kept() throws Exception {
    String noted = weight("W-1").replace("\"status\"", "\"note\":[{\"text\":\"x\"}],\"status\"");
    HttpResponse<String> created =
        server.post(
            "/Observation", "application/fhir+json", noted, "Prefer", "return=OperationOutcome");

    assertThat(created.statusCode()).as(created.body()).isEqualTo(201);
    JsonNode outcome = Answers.read(created.body());
    assertThat(outcome.path("resourceType").asText()).isEqualTo("OperationOutcome");
    assertThat(outcome.at("/issue/0/severity").asText()).isEqualTo("information");
    assertThat(outcome.at("/issue/0/details/coding/0/code").asText()).isEqualTo("IND-0269");
    assertThat(outcome.at("/issue/0/diagnostics").asText())
        .matches("Observation/[a-z0-9]+ is kept as version 1\\.");
    assertThat(outcome.at("/issue/1/details/coding/0/code").asText()).isEqualTo("IND-0265");
    assertThat(outcome.at("/issue/1/expression/0").asText()).startsWith("Observation.note");
    assertThat(created.headers().firstValue("ETag")).contains("W/\"1\"");
    assertThat(created.headers().firstValue("Preference-Applied"))
        .contains("return=OperationOutcome");
  }

  @Test
  void an_update_follows_the_preference_as_well() throws Exception {
    String created = post("return=representation").body();
    String path = "/Observation/" + Answers.read(created).get("id").asText();
    String corrected = created.replace("\"value\":70", "\"value\":71");

    HttpResponse<String> minimal = server.put(path, corrected, "Prefer", "return=minimal");
    HttpResponse<String> outcome = server.put(path, corrected, "Prefer", "return=OperationOutcome");

    assertThat(minimal.statusCode()).isEqualTo(200);
    assertThat(minimal.body()).isEmpty();
    assertThat(minimal.headers().firstValue("ETag")).contains("W/\"2\"");
    assertThat(outcome.body()).contains("is kept as version 2.", "IND-0269");
  }

  @Test
  void a_ward_follows_the_preference_as_well() throws Exception {
    String ward = Answers.read(server.get("/Location").body()).at("/entry/0/resource").toString();
    String path = "/Location/" + Answers.read(ward).get("id").asText();

    assertThat(server.put(path, ward, "Prefer", "return=minimal").body()).isEmpty();
    assertThat(server.put(path, ward, "Prefer", "return=OperationOutcome").body())
        .contains("OperationOutcome", "IND-0269");
    assertThat(server.put(path, ward).body()).contains("\"resourceType\":\"Location\"");
  }

  @Test
  void an_error_is_told_whatever_was_preferred() throws Exception {
    HttpResponse<String> refused =
        server.post(
            "/Observation",
            "application/fhir+json",
            weight("W-1").replace("\"kg\"", "\"[lb_av]\""),
            "Prefer",
            "return=minimal");

    assertThat(refused.statusCode()).isEqualTo(422);
    assertThat(refused.body()).contains("OperationOutcome", "IND-0253");
    assertThat(refused.headers().firstValue("Preference-Applied")).isEmpty();
  }

  @Test
  void a_preference_that_is_not_known_is_passed_over() throws Exception {
    HttpResponse<String> created = post("return=everything");

    assertThat(created.body()).contains("\"resourceType\":\"Observation\"");
    assertThat(created.headers().firstValue("Preference-Applied")).isEmpty();
  }

  @ParameterizedTest
  @CsvSource({
    "transaction, '', '', IND-0265",
    "transaction, return=minimal, '', ''",
    "transaction, return=representation, Observation, IND-0265",
    "transaction, return=OperationOutcome, '', IND-0269",
    "batch, '', '', IND-0265",
    "batch, return=minimal, '', ''",
    "batch, return=representation, Observation, IND-0265",
    "batch, return=OperationOutcome, '', IND-0269"
  })
  void entries_are_answered_as_is_preferred(
      String type, String prefer, String resource, String code) throws Exception {
    String noted = weight("W-1").replace("\"status\"", "\"note\":[{\"text\":\"x\"}],\"status\"");
    String body =
        ("{\"resourceType\":\"Bundle\",\"type\":\"%s\",\"entry\":[{\"resource\":%s,"
                + "\"request\":{\"method\":\"POST\",\"url\":\"Observation\"}},"
                + "{\"request\":{\"method\":\"GET\",\"url\":\"Device\"}}]}")
            .formatted(type, noted);
    HttpResponse<String> sent =
        prefer.isEmpty()
            ? server.post("", "application/fhir+json", body)
            : server.post("", "application/fhir+json", body, "Prefer", prefer);
    JsonNode answer = Answers.read(sent.body());

    assertThat(answer.at("/entry/0/response/status").asText()).as(sent.body()).startsWith("201");
    assertThat(answer.at("/entry/0/response/location").asText()).endsWith("/_history/1");
    assertThat(answer.at("/entry/0/resource/resourceType").asText()).isEqualTo(resource);
    assertThat(answer.at("/entry/0/response/outcome/issue/0/details/coding/0/code").asText())
        .isEqualTo(code);
    assertThat(answer.at("/entry/1/resource/resourceType").asText()).isEqualTo("Bundle");
    assertThat(sent.headers().firstValue("Preference-Applied").orElse("")).isEqualTo(prefer);
  }

  @Test
  void a_refused_entry_of_a_batch_says_why_whatever_was_preferred() throws Exception {
    String body =
        "{\"resourceType\":\"Bundle\",\"type\":\"batch\",\"entry\":["
            + "{\"request\":{\"method\":\"GET\",\"url\":\"Patient/unknown\"}}]}";
    JsonNode answer =
        Answers.read(
            server.post("", "application/fhir+json", body, "Prefer", "return=minimal").body());

    assertThat(answer.at("/entry/0/response/outcome/issue/0/details/coding/0/code").asText())
        .isEqualTo("IND-0100");
  }

  @Test
  void the_statement_of_capabilities_says_so() throws Exception {
    JsonNode rest = new Answers(server).get("/metadata").at("/rest/0");

    assertThat(rest.path("documentation").asText())
        .contains("return=minimal", "return=representation", "return=OperationOutcome");
  }
}
