package indwell.web.fhir;

import static indwell.web.fhir.SentDays.FIVE_AND_TWO;
import static indwell.web.fhir.SentDays.JSON;
import static indwell.web.fhir.SentDays.LINES;
import static indwell.web.fhir.SentDays.MARCH;
import static indwell.web.fhir.SentDays.each;
import static indwell.web.fhir.SentDays.remarks;
import static indwell.web.fhir.SentDays.sums;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * {@code $device-days} of resources of another system, which never become a part of the record. The
 * numbers are those of the midnights that lie within each story (CDC form 57.118: who is there at
 * the count time counts).
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class SentDeviceDaysTest {
  private static SentDays sent;

  @BeforeAll
  static void start() throws Exception {
    sent = new SentDays();
  }

  @AfterAll
  static void stop() throws Exception {
    sent.close();
  }

  @Test
  void a_stay_that_names_wards_and_no_movements_is_counted_by_them() throws Exception {
    JsonNode bundle = sent.count(EhrResources.story());

    assertThat(sums(bundle)).isEqualTo(FIVE_AND_TWO);
    assertThat(bundle.at("/entry/0/resource/subject/reference").asText()).isEqualTo("Location/Med");
    assertThat(remarks(bundle)).isEmpty();
  }

  @Test
  void the_table_has_the_same_numbers() throws Exception {
    assertThat(sent.send(EhrResources.story(), "Accept", "text/csv").body())
        .isEqualTo(
            """
            date,ward,patient_days,catheter_days
            2026-03-01,Med,0,0
            2026-03-02,Med,1,0
            2026-03-03,Med,1,1
            2026-03-04,Med,1,1
            2026-03-05,Med,1,0
            2026-03-06,Med,1,0
            2026-03-07,Med,0,0
            """
                .replace("\n", "\r\n"));
  }

  @Test
  void one_ward_of_what_was_sent_can_be_asked_for() throws Exception {
    String body = String.join("\n", EhrResources.story());
    String range = "/$device-days?start=2026-03-01&end=2026-03-07";

    assertThat(sent.post("/Location/Med" + range, LINES, body).statusCode()).isEqualTo(200);
    assertThat(sent.post("/Location/Surg" + range, LINES, body).statusCode()).isEqualTo(404);
  }

  @Test
  void a_patient_is_asked_for_and_told_by_the_names_that_were_sent() throws Exception {
    String body = String.join("\n", EhrResources.story());

    HttpResponse<String> answer =
        sent.post(MARCH + "&report-type=individual&subject=Patient/1", LINES, body);

    JsonNode report = Answers.read(answer.body()).at("/entry/0/resource");
    assertThat(report.at("/subject/reference").asText()).isEqualTo("Patient/1");
    assertThat(report.at("/subject/identifier/value").asText()).isEqualTo("MRN-1");
    assertThat(report.get("evaluatedResource").findValuesAsText("reference"))
        .contains("Encounter/9", "Procedure/7");
    assertThat(
            sent.post(MARCH + "&report-type=individual&subject=Patient/2", LINES, body)
                .statusCode())
        .isEqualTo(404);
  }

  @ParameterizedTest
  @ValueSource(strings = {"application/fhir+ndjson", "application/x-ndjson", "application/ndjson"})
  void lines_have_three_names(String type) throws Exception {
    String body = String.join("\r\n\r\n", EhrResources.story()) + "\r\n";

    HttpResponse<String> answer = sent.post(MARCH, type + "; charset=utf-8", body);

    assertThat(sums(Answers.read(answer.body()))).isEqualTo(FIVE_AND_TWO);
  }

  @ParameterizedTest
  @ValueSource(strings = {"collection", "searchset", "transaction", "batch"})
  void a_bundle_is_counted_alone_and_within_parameters(String type) throws Exception {
    String bundle = EhrResources.bundle(type, EhrResources.story());
    String parameters =
        "{\"resourceType\":\"Parameters\",\"parameter\":[{\"name\":\"resource\",\"resource\":"
            + bundle
            + "},{\"name\":\"start\",\"valueDate\":\"2026-03-01\"},"
            + "{\"name\":\"end\",\"valueDate\":\"2026-03-07\"}]}";

    assertThat(sums(Answers.read(sent.post(MARCH, JSON, bundle).body()))).isEqualTo(FIVE_AND_TWO);
    assertThat(sums(Answers.read(sent.post("/$device-days", JSON, parameters).body())))
        .isEqualTo(FIVE_AND_TWO);
  }

  /** The insertion of the page on transactions: its stay is in ward A-1 from 1 March on. */
  @Test
  void a_transaction_is_counted_without_being_made() throws Exception {
    String transaction = Files.readString(Path.of("docs/api/transaction-insertion.json"));

    HttpResponse<String> answer = sent.post(MARCH, JSON, transaction);

    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    assertThat(sums(Answers.read(answer.body()))).isEqualTo("6 6");
  }

  /** Source: https://hl7.org/fhir/R4/bundle.html#references */
  @Test
  void references_lead_to_the_address_of_an_entry() throws Exception {
    Map<String, String> urns =
        Map.of(
            "Patient/1", urn("Patient/1"),
            "Encounter/9", urn("Encounter/9"),
            "Device/5", urn("Device/5"));
    List<String> entries =
        each(
            EhrResources.story(),
            one -> {
              JsonNode resource = read(one);
              String own =
                  resource.get("resourceType").asText() + "/" + resource.get("id").asText();
              String text = one.replace("\"id\":\"" + resource.get("id").asText() + "\",", "");
              for (Map.Entry<String, String> urn : urns.entrySet()) {
                text = text.replace(urn.getKey(), urn.getValue());
              }
              return "{\"fullUrl\":\""
                  + urns.getOrDefault(own, urn(own))
                  + "\",\"resource\":"
                  + text
                  + "}";
            });

    HttpResponse<String> answer =
        sent.post(MARCH, JSON, EhrResources.bundle("transaction", entries));

    assertThat(sums(Answers.read(answer.body()))).as(answer.body()).isEqualTo(FIVE_AND_TWO);
  }

  private static String urn(String name) {
    return "urn:uuid:" + UUID.nameUUIDFromBytes(name.getBytes());
  }

  private static JsonNode read(String json) {
    try {
      return Answers.read(json);
    } catch (Exception e) {
      throw new AssertionError(e);
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"https://ehr.example/fhir/", "https://ehr.example/a/b/fhir/"})
  void absolute_references_lead_to_lines_and_entries(String root) throws Exception {
    List<String> lines =
        each(
            EhrResources.story(),
            one -> one.replace("\"reference\":\"", "\"reference\":\"" + root));
    List<String> entries =
        each(
            EhrResources.story(),
            one -> {
              JsonNode resource = read(one);
              return "{\"fullUrl\":\""
                  + root
                  + resource.get("resourceType").asText()
                  + "/"
                  + resource.get("id").asText()
                  + "\",\"resource\":"
                  + one.replace(
                      "\"reference\":\"Patient/1",
                      "\"reference\":\"" + root + "Patient/1/_history/3")
                  + "}";
            });

    assertThat(sums(sent.count(lines))).isEqualTo(FIVE_AND_TWO);
    assertThat(
            sums(
                Answers.read(
                    sent.post(MARCH, JSON, EhrResources.bundle("searchset", entries)).body())))
        .isEqualTo(FIVE_AND_TWO);
  }

  @Test
  void a_reference_may_be_an_identifier() throws Exception {
    String logical =
        "{\"type\":\"Patient\",\"identifier\":{\"system\":\"urn:ehr:mrn\",\"value\":\"MRN-1\"}}";

    assertThat(
            sums(
                sent.count(
                    each(
                        EhrResources.story(),
                        one -> one.replace("{\"reference\":\"Patient/1\"}", logical)))))
        .isEqualTo(FIVE_AND_TWO);
    assertThat(
            sums(
                sent.count(
                    each(
                        EhrResources.story(),
                        one ->
                            one.replace("Patient/1\"", "Patient?identifier=urn:ehr:mrn|MRN-1\"")))))
        .isEqualTo(FIVE_AND_TWO);
  }
}
