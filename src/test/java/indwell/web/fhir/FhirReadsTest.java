package indwell.web.fhir;

import static net.javacrumbs.jsonunit.assertj.JsonAssertions.assertThatJson;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.net.URI;
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

/** Read, vread, history and search (https://hl7.org/fhir/R4/http.html, search.html). */
@DisplayNameGeneration(ReplaceUnderscores.class)
class FhirReadsTest {
  private static final ObjectMapper JSON = new ObjectMapper();
  private FhirServer server;

  @BeforeEach
  void start() throws Exception {
    server = new FhirServer();
    server.recordStay();
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
  }

  private JsonNode json(String path) throws Exception {
    HttpResponse<String> response = server.get(path);
    assertThat(response.statusCode()).as(response.body()).isEqualTo(200);
    return JSON.readTree(response.body());
  }

  private String patientId() throws Exception {
    return json("/Patient?identifier=urn:test:mrn|p1".replace("|", "%7C"))
        .at("/entry/0/resource/id")
        .asText();
  }

  @Test
  void a_read_has_version_and_time_in_its_head() throws Exception {
    HttpResponse<String> response = server.get("/Location/A-1");
    assertThat(response.statusCode()).isEqualTo(200);
    assertThat(response.headers().firstValue("Content-Type")).hasValue("application/fhir+json");
    assertThat(response.headers().firstValue("ETag")).hasValue("W/\"1\"");
    assertThat(response.headers().firstValue("Last-Modified"))
        .hasValue("Tue, 10 Mar 2026 12:00:00 GMT");
    assertThat(response.headers().firstValue("Cache-Control")).hasValue("no-store");
    assertThatJson(response.body()).node("id").isEqualTo("A-1");
  }

  @ParameterizedTest
  @CsvSource({
    "If-None-Match, W/\"1\"",
    "If-None-Match, '\"7\", W/\"1\"'",
    "If-None-Match, *",
    "If-Modified-Since, 'Tue, 10 Mar 2026 12:00:00 GMT'"
  })
  void what_the_caller_has_already_is_not_sent_again(String name, String value) throws Exception {
    HttpResponse<String> response = server.get("/Location/A-1", name, value);
    assertThat(response.statusCode()).isEqualTo(304);
    assertThat(response.body()).isEmpty();
    assertThat(response.headers().firstValue("ETag")).hasValue("W/\"1\"");
  }

  @ParameterizedTest
  @CsvSource({
    "If-None-Match, W/\"2\"",
    "If-Modified-Since, 'Tue, 10 Mar 2026 11:59:59 GMT'",
    "If-Modified-Since, yesterday"
  })
  void what_the_caller_does_not_have_is_sent(String name, String value) throws Exception {
    assertThat(server.get("/Location/A-1", name, value).statusCode()).isEqualTo(200);
  }

  @Test
  void a_head_request_is_answered_without_a_body() throws Exception {
    HttpResponse<String> response = server.send("HEAD", "/Location/A-1");
    assertThat(response.statusCode()).isEqualTo(200);
    assertThat(response.headers().firstValue("ETag")).hasValue("W/\"1\"");
    assertThat(response.body()).isEmpty();
  }

  @Test
  void a_version_and_the_history_can_be_read() throws Exception {
    String device = json("/Device").at("/entry/0/resource/id").asText();
    server.record(
        FhirServer.event(
            "e9", "catheter-removed", "2026-03-05T09:00:00+01:00", "\"catheterId\":\"c1\""));
    JsonNode history = json("/Device/" + device + "/_history");
    assertThat(history.get("type").asText()).isEqualTo("history");
    assertThat(history.get("total").asInt()).isEqualTo(2);
    assertThat(history.at("/entry/0/resource/status").asText()).isEqualTo("inactive");
    assertThat(history.at("/entry/0/response/etag").asText()).isEqualTo("W/\"2\"");
    assertThat(history.at("/entry/1/request/method").asText()).isEqualTo("PUT");
    assertThat(json("/Device/" + device + "/_history/1").get("status").asText())
        .isEqualTo("active");
    assertThat(server.get("/Device/" + device + "/_history/3").statusCode()).isEqualTo(404);
    assertThat(server.get("/Device/" + device + "/_history/x").statusCode()).isEqualTo(404);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "identifier=urn:test:mrn%7Cp1",
        "identifier=p1",
        "identifier=urn:test:mrn%7C",
        "identifier=nobody,urn:test:mrn%7Cp1"
      })
  void a_patient_is_found_by_identifier(String query) throws Exception {
    JsonNode bundle = json("/Patient?" + query);
    assertThat(bundle.get("total").asInt()).isEqualTo(1);
    assertThat(bundle.at("/entry/0/fullUrl").asText())
        .isEqualTo(server.base() + "/Patient/" + bundle.at("/entry/0/resource/id").asText());
    assertThat(bundle.at("/entry/0/search/mode").asText()).isEqualTo("match");
  }

  @ParameterizedTest
  @ValueSource(strings = {"identifier=urn:other%7Cp1", "identifier=%7Cp1", "_id=unknown"})
  void others_are_not_found(String query) throws Exception {
    JsonNode bundle = json("/Patient?" + query);
    assertThat(bundle.get("total").asInt()).isZero();
    assertThat(bundle.has("entry")).isFalse();
  }

  @Test
  void resources_are_found_by_their_patient_in_every_form_of_a_reference() throws Exception {
    String id = patientId();
    for (String value :
        List.of(id, "Patient/" + id, server.base() + "/Patient/" + id, "nobody," + id)) {
      for (String name : List.of("patient", "subject")) {
        assertThat(json("/Procedure?" + name + "=" + value).get("total").asInt())
            .as(name + "=" + value)
            .isEqualTo(1);
      }
    }
    assertThat(json("/Procedure?patient=" + id + "&subject=nobody").get("total").asInt()).isZero();
    assertThat(json("/Procedure?patient=http://other/Patient/" + id).get("total").asInt()).isZero();
  }

  @Test
  void pages_follow_one_another_until_all_were_seen() throws Exception {
    for (int i = 0; i < 5; i++) {
      server.record(
          FhirServer.event(
              "w" + i, "weight-measured", "2026-03-0" + (2 + i) + "T10:00:00Z", "\"kg\":7" + i));
    }
    List<String> seen = new ArrayList<>();
    String next = server.base() + "/Observation?_count=2";
    int pages = 0;
    while (!next.isEmpty()) {
      JsonNode bundle = json(URI.create(next).toString().substring(server.base().length()));
      assertThat(bundle.get("total").asInt()).isEqualTo(6);
      bundle.path("entry").forEach(entry -> seen.add(entry.at("/resource/id").asText()));
      next = "";
      for (JsonNode link : bundle.get("link")) {
        if (link.get("relation").asText().equals("next")) {
          next = link.get("url").asText();
        }
      }
      pages++;
    }
    assertThat(seen).hasSize(6).doesNotHaveDuplicates().isSorted();
    assertThat(pages).isLessThanOrEqualTo(4);
  }

  @ParameterizedTest
  @ValueSource(strings = {"_summary=count", "_count=0"})
  void the_number_alone_can_be_asked_for(String query) throws Exception {
    JsonNode bundle = json("/Observation?" + query);
    assertThat(bundle.get("total").asInt()).isEqualTo(1);
    assertThat(bundle.has("entry")).isFalse();
  }

  @Test
  void a_count_beyond_the_limit_gives_what_the_limit_allows() throws Exception {
    assertThat(json("/Observation?_count=999999999").get("total").asInt()).isEqualTo(1);
  }

  @ParameterizedTest
  @CsvSource({
    "/Patient?name=x, IND-0103, name",
    "/Patient?patient=x, IND-0103, patient",
    "/Provenance?identifier=x, IND-0103, identifier",
    "/Patient?_sort=name, IND-0104, _sort",
    "/Patient?identifier:exact=x, IND-0240, identifier",
    "/Patient?_count=many, IND-0104, many",
    "/Patient?_count=-1, IND-0104, -1",
    "/Patient?_summary=some, IND-0104, some",
    "/Patient?_count=1&_count=2, IND-0104, 2 times",
    "/Patient?identifier=, IND-0104, complete",
    "/Patient?identifier=%7C, IND-0104, complete",
    "/Patient?_id=%ff, IND-0013, decoded",
    "/Location/A-1?x=y, IND-0103, x"
  })
  void a_parameter_that_cannot_be_is_named(String path, String code, String named)
      throws Exception {
    HttpResponse<String> response = server.get(path);
    assertThat(response.statusCode()).as(response.body()).isEqualTo(400);
    assertThat(response.headers().firstValue("Content-Type")).hasValue("application/fhir+json");
    JsonNode issue = JSON.readTree(response.body()).at("/issue/0");
    assertThat(issue.at("/details/coding/0/code").asText()).isEqualTo(code);
    assertThat(issue.get("diagnostics").asText()).contains(named, "expected");
  }

  @Test
  void unknown_parameters_are_passed_over_only_when_asked_to_be() throws Exception {
    HttpResponse<String> response = server.get("/Patient?name=x", "Prefer", "handling=lenient; x");
    assertThat(response.statusCode()).isEqualTo(200);
    JsonNode bundle = JSON.readTree(response.body());
    assertThat(bundle.at("/link/0/url").asText()).isEqualTo(server.base() + "/Patient");
    assertThat(bundle.at("/entry/1/search/mode").asText()).isEqualTo("outcome");
    assertThat(bundle.at("/entry/1/resource/issue/0/diagnostics").asText()).contains("name");
  }
}
