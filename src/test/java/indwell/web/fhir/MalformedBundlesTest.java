package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * What has not the form of a Bundle is refused, and never read as one that asks for nothing.
 *
 * <p>Source: https://hl7.org/fhir/R4/bundle.html and https://hl7.org/fhir/R4/json.html
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class MalformedBundlesTest {
  private static FhirServer server;

  @BeforeAll
  static void start() throws Exception {
    server = new FhirServer();
  }

  @AfterAll
  static void stop() throws Exception {
    server.close();
  }

  @ParameterizedTest(name = "{0}")
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      value = {
        "\"entry\":{} | Bundle.entry | Element \"entry\" is an object; expected an array.",
        "\"entry\":\"x\" | Bundle.entry | Element \"entry\" is a text; expected an array.",
        "\"entry\":5 | Bundle.entry | Element \"entry\" is a number; expected an array.",
        "\"entry\":true | Bundle.entry | Element \"entry\" is a boolean; expected an array.",
        "\"entry\":null | Bundle.entry | Element \"entry\" is null; expected an array.",
        "\"entries\":[] | Bundle | Element \"entries\" has no place here; expected entry, id,"
            + " identifier, implicitRules, language, link, meta, signature, timestamp, total or"
            + " type.",
        "\"Entry\":[] | Bundle | Element \"Entry\" has no place here; expected entry,",
        "\"entry\":[[]] | Bundle.entry[0] | The entry is an array; expected an object.",
        "\"entry\":[null] | Bundle.entry[0] | The entry is null; expected an object.",
        "\"entry\":[{\"request\":\"GET\"}] | Bundle.entry[0].request | Element \"request\" is a"
            + " text; expected an object.",
        "\"entry\":[{\"request\":[]}] | Bundle.entry[0].request | Element \"request\" is an array;"
            + " expected an object.",
        "\"entry\":[{\"resource\":[]}] | Bundle.entry[0].resource | Element \"resource\" is an"
            + " array; expected an object.",
        "\"entry\":[{\"fullUrl\":7}] | Bundle.entry[0].fullUrl | Element \"fullUrl\" is a number;"
            + " expected a text.",
        "\"entry\":[{\"fullURL\":\"x\"}] | Bundle.entry[0] | Element \"fullURL\" has no place here;"
            + " expected extension, fullUrl, id, link, request or resource.",
        "\"entry\":[{\"request\":{\"method\":1}}] | Bundle.entry[0].request.method | Element"
            + " \"method\" is a number; expected a text.",
        "\"entry\":[{\"request\":{\"uri\":\"x\"}}] | Bundle.entry[0].request | Element \"uri\" has"
            + " no place here; expected extension, id, ifMatch, ifModifiedSince, ifNoneExist,"
            + " ifNoneMatch, method or url.",
      })
  void a_bundle_is_refused_by_what_was_found_in_it(String members, String at, String sentence)
      throws Exception {
    for (String type : new String[] {"transaction", "batch"}) {
      HttpResponse<String> answer =
          server.post(
              "",
              "application/fhir+json",
              "{\"resourceType\":\"Bundle\",\"type\":\"" + type + "\"," + members + "}");

      assertThat(answer.statusCode()).as(answer.body()).isEqualTo(400);
      var issue = Answers.read(answer.body()).at("/issue/0");
      assertThat(issue.at("/details/coding/0/code").asText()).isEqualTo("IND-0250");
      assertThat(issue.path("diagnostics").asText()).startsWith(sentence);
      assertThat(issue.at("/expression/0").asText()).isEqualTo(at);
    }
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      value = {
        "{\"resourceType\":\"Bundle\",\"type\":5}",
        "{\"resourceType\":\"Bundle\",\"Type\":\"batch\"}",
        "{\"resourceType\":\"Bundle\"}"
      })
  void a_bundle_without_a_type_is_refused(String body) throws Exception {
    HttpResponse<String> answer = server.post("", "application/fhir+json", body);

    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(400);
    assertThat(answer.body()).contains("IND-0250");
  }

  @ParameterizedTest
  @CsvSource({"id, '\"x\"'", "meta, {}", "_type, {\"id\":\"a\"}", "link, []", "total, 0"})
  void an_element_of_r4_is_no_fault(String name, String value) throws Exception {
    HttpResponse<String> answer =
        server.post(
            "",
            "application/fhir+json",
            "{\"resourceType\":\"Bundle\",\"type\":\"batch\",\"%s\":%s}".formatted(name, value));

    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      value = {"\"entry\":{}", "\"entries\":[]", "\"entry\":[{\"request\":1}]"})
  void resources_that_are_sent_to_be_counted_are_held_to_the_same_form(String members)
      throws Exception {
    HttpResponse<String> answer =
        server.post(
            "/$device-days?start=2026-03-01&end=2026-03-02",
            "application/fhir+json",
            "{\"resourceType\":\"Bundle\",\"type\":\"collection\"," + members + "}");

    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(400);
    assertThat(answer.body()).contains("IND-0250");
  }
}
