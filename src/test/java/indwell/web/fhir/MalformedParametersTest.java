package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * What has not the form of Parameters is refused by every operation, and never read as if nothing
 * had been asked.
 *
 * <p>Source: https://hl7.org/fhir/R4/parameters.html and https://hl7.org/fhir/R4/json.html
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class MalformedParametersTest {
  private static FhirServer server;
  private static List<String> operations;

  @BeforeAll
  static void start() throws Exception {
    server = new FhirServer();
    server.recordStay();
    String patient = new Answers(server).matches("/Patient").get(0);
    operations =
        List.of(
            "/$overdue",
            "/" + patient + "/$catheter-days",
            "/$device-days?start=2026-03-01&end=2026-03-02",
            "/Location/A-1/$device-days?start=2026-03-01&end=2026-03-02",
            "/$unit-report?start=2026-02&end=2026-02",
            "/Location/A-1/$unit-report?start=2026-02&end=2026-02",
            "/$export",
            "/Patient/$export",
            "/Group/A-1/$export",
            "/Patient/$validate",
            "/" + patient + "/$validate");
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
        "\"parameter\":{} | Parameters.parameter | Element \"parameter\" is an object; expected an"
            + " array.",
        "\"parameter\":\"x\" | Parameters.parameter | Element \"parameter\" is a text; expected an"
            + " array.",
        "\"parameter\":null | Parameters.parameter | Element \"parameter\" is null; expected an"
            + " array.",
        "\"parameters\":[] | Parameters | Element \"parameters\" has no place here; expected id,"
            + " implicitRules, language, meta or parameter.",
        "\"parameter\":[5] | Parameters.parameter[0] | The parameter is a number; expected an"
            + " object.",
        "\"parameter\":[{\"valueString\":\"x\"}] | Parameters.parameter[0].name | The parameter has"
            + " no name; expected that of a parameter of the operation.",
        "\"parameter\":[{\"name\":\"\",\"valueString\":\"x\"}] | Parameters.parameter[0].name | The"
            + " parameter has no name;",
        "\"parameter\":[{\"name\":7,\"valueString\":\"x\"}] | Parameters.parameter[0].name | Element"
            + " \"name\" is a number; expected a text.",
        "\"parameter\":[{\"name\":\"a\",\"valuedate\":\"x\"}] | Parameters.parameter[0] | Element"
            + " \"valuedate\" has no place here; expected extension, id, name, part, resource or"
            + " value[x].",
        "\"parameter\":[{\"name\":\"a\",\"Name\":\"x\"}] | Parameters.parameter[0] | Element"
            + " \"Name\" has no place here;",
        "\"parameter\":[{\"name\":\"a\",\"valueDate\":5}] | Parameters.parameter[0].valueDate |"
            + " Element \"valueDate\" is a number; expected a text.",
        "\"parameter\":[{\"name\":\"a\",\"valueBoolean\":\"true\"}] |"
            + " Parameters.parameter[0].valueBoolean | Element \"valueBoolean\" is a text; expected"
            + " a boolean.",
        "\"parameter\":[{\"name\":\"a\",\"valueReference\":\"x\"}] |"
            + " Parameters.parameter[0].valueReference | Element \"valueReference\" is a text;"
            + " expected an object.",
        "\"parameter\":[{\"name\":\"a\",\"resource\":[]}] | Parameters.parameter[0].resource |"
            + " Element \"resource\" is an array; expected an object.",
        "\"parameter\":[{\"name\":\"a\",\"part\":{}}] | Parameters.parameter[0].part | Element"
            + " \"part\" is an object; expected an array.",
        "\"parameter\":[{\"name\":\"asOf\",\"valueDateTime\":\"2026-03-01T12:00:00Z\",\"valueInstant\""
            + ":\"2026-03-02T12:00:00Z\"}] | Parameters.parameter[0] | Parameter \"asOf\" has"
            + " valueDateTime and valueInstant; expected one value, resource or list of parts.",
        "\"parameter\":[{\"name\":\"a\",\"valueString\":\"x\",\"part\":[]}] |"
            + " Parameters.parameter[0] | Parameter \"a\" has valueString and part;",
      })
  void a_body_is_refused_by_what_was_found_in_it(String members, String at, String sentence)
      throws Exception {
    for (String operation : operations) {
      HttpResponse<String> answer = send(operation, members);

      assertThat(answer.statusCode()).as("%s: %s", operation, answer.body()).isEqualTo(400);
      var issue = Answers.read(answer.body()).at("/issue/0");
      assertThat(issue.at("/details/coding/0/code").asText()).as(operation).isEqualTo("IND-0106");
      assertThat(issue.path("diagnostics").asText()).as(operation).startsWith(sentence);
      assertThat(issue.at("/expression/0").asText()).as(operation).isEqualTo(at);
    }
  }

  @Test
  void being_lenient_passes_over_no_malformed_body() throws Exception {
    for (String operation : operations) {
      HttpResponse<String> answer =
          server.post(
              operation,
              "application/fhir+json",
              "{\"resourceType\":\"Parameters\",\"parameters\":[]}",
              "Prefer",
              "handling=lenient");

      assertThat(answer.statusCode()).as("%s: %s", operation, answer.body()).isEqualTo(400);
    }
  }

  @Test
  void extensions_and_ids_are_no_fault() throws Exception {
    HttpResponse<String> answer =
        send(
            "/$overdue",
            "\"id\":\"a\",\"meta\":{},\"parameter\":[{\"id\":\"b\",\"extension\":[],\"name\":\"asOf\","
                + "\"valueDateTime\":\"2026-03-02T12:00:00Z\",\"_valueDateTime\":{\"id\":\"c\"}}]");

    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
  }

  private static HttpResponse<String> send(String operation, String members) throws Exception {
    return server.post(
        operation, "application/fhir+json", "{\"resourceType\":\"Parameters\"," + members + "}");
  }
}
