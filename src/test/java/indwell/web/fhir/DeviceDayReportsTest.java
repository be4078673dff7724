package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import indwell.contract.SharedValidator;
import indwell.domain.event.BusinessId;
import indwell.fhir.map.Reporter;
import indwell.port.ProfileValidator;
import indwell.port.ProfileValidator.Finding;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What the reports of {@code $device-days} say beside their numbers, and for whom they are. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class DeviceDayReportsTest {
  private static final String MARCH = "/$device-days?start=2026-03-01&end=2026-03-05";
  private static final String NHSN =
      "https://www.cdc.gov/nhsn/cdaportal/terminology/codesystem/cdcnhsn.html";
  private static final BusinessId OID = new BusinessId("urn:ietf:rfc:3986", "urn:oid:2.999.1");
  private static final ProfileValidator VALIDATOR = SharedValidator.WARM;

  private FhirServer server;
  private Answers answers;

  private void start(FhirServer one) throws Exception {
    server = one;
    answers = new Answers(one);
    server.recordStay();
    server.record(
        FhirServer.event("e9", "patient-transferred", "2026-03-04T00:00:00Z", "\"ward\":\"B-2\""));
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
  }

  private List<JsonNode> resources(String path) throws Exception {
    List<JsonNode> resources = new ArrayList<>();
    answers.get(path).path("entry").forEach(entry -> resources.add(entry.get("resource")));
    return resources;
  }

  private static List<JsonNode> reports(List<JsonNode> resources, String type) {
    return resources.stream().filter(one -> one.path("type").asText().equals(type)).toList();
  }

  /** Source: FHIR notes 14.1 and 14.4: NHSN codes of HL7's CDA summary as second codings. */
  @Test
  void both_sums_carry_the_code_of_a_submission_behind_that_of_fhir() throws Exception {
    start(new FhirServer());

    JsonNode populations = resources(MARCH).get(0).at("/group/0/population");

    assertThat(populations.at("/0/code/coding/0/code").asText()).isEqualTo("denominator");
    assertThat(populations.at("/0/code/coding/1/system").asText()).isEqualTo(NHSN);
    assertThat(populations.at("/0/code/coding/1/code").asText()).isEqualTo("1851-5");
    assertThat(populations.at("/1/code/coding/0/code").asText()).isEqualTo("numerator");
    assertThat(populations.at("/1/code/coding/1/system").asText()).isEqualTo(NHSN);
    assertThat(populations.at("/1/code/coding/1/code").asText()).isEqualTo("1853-1");
  }

  @Test
  void a_facility_that_says_nothing_of_itself_reports_without_a_reporter() throws Exception {
    start(new FhirServer());

    assertThat(resources(MARCH).get(0).has("reporter")).isFalse();
  }

  @Test
  void a_facility_is_within_the_report() throws Exception {
    start(server(Optional.of("St. Example"), Optional.of(OID), new Reporter.Contained()));

    JsonNode report = resources(MARCH).get(0);

    assertThat(report.at("/reporter/reference").asText()).isEqualTo("#facility");
    JsonNode facility = report.at("/contained/0");
    assertThat(facility.get("resourceType").asText()).isEqualTo("Organization");
    assertThat(facility.get("id").asText()).isEqualTo("facility");
    assertThat(facility.get("name").asText()).isEqualTo("St. Example");
    assertThat(facility.at("/identifier/0/value").asText()).isEqualTo("urn:oid:2.999.1");
    valid(resources(MARCH));
  }

  @Test
  void a_facility_is_known_by_its_identifier() throws Exception {
    start(server(Optional.empty(), Optional.of(OID), new Reporter.Logical()));

    JsonNode reporter = resources(MARCH).get(0).get("reporter");

    assertThat(reporter.has("reference")).isFalse();
    assertThat(reporter.at("/identifier/system").asText()).isEqualTo("urn:ietf:rfc:3986");
    valid(resources(MARCH));
  }

  @Test
  void a_facility_is_an_organization_elsewhere() throws Exception {
    String url = "https://ehr.example/fhir/Organization/7";
    start(server(Optional.of("St. Example"), Optional.empty(), new Reporter.Literal(url)));

    JsonNode reporter = resources(MARCH).get(0).get("reporter");

    assertThat(reporter.get("reference").asText()).isEqualTo(url);
    assertThat(reporter.get("display").asText()).isEqualTo("St. Example");
    valid(resources(MARCH));
  }

  private static FhirServer server(
      Optional<String> name, Optional<BusinessId> identifier, Reporter.Form form) throws Exception {
    return new FhirServer(new Reporter(name, identifier, form));
  }

  /** Source of the code: HSLOC, 1060-3 Inpatient Medical Ward (FHIR notes 2.8). */
  @Test
  void a_report_says_what_kind_of_ward_it_is_about_where_the_ward_does() throws Exception {
    start(new FhirServer());
    server.put(
        "/Location/A-1",
        "{\"resourceType\":\"Location\",\"id\":\"A-1\",\"identifier\":[{\"system\":"
            + "\"https://indwell.example/fhir/ward\",\"value\":\"A-1\"}],\"status\":\"active\","
            + "\"name\":\"A\",\"mode\":\"instance\",\"type\":[{\"coding\":[{\"system\":"
            + "\"https://www.cdc.gov/nhsn/cdaportal/terminology/codesystem/hsloc.html\","
            + "\"code\":\"1060-3\"}]}],\"physicalType\":{\"coding\":[{\"system\":"
            + "\"http://terminology.hl7.org/CodeSystem/location-physical-type\","
            + "\"code\":\"wa\"}]}}");

    List<JsonNode> all = resources(MARCH);

    assertThat(ward(all.get(0)).at("/0/valueReference/reference").asText())
        .isEqualTo("Location/A-1");
    assertThat(ward(all.get(0)).at("/1/valueCoding/code").asText()).isEqualTo("1060-3");
    assertThat(ward(all.get(1))).hasSize(1);
    valid(all);
  }

  private static JsonNode ward(JsonNode report) {
    for (JsonNode extension : report.path("extension")) {
      if (extension.get("url").asText().endsWith("/catheter-report-ward")) {
        return extension.get("extension");
      }
    }
    throw new AssertionError("No ward in " + report);
  }

  @Test
  void a_subject_list_has_a_list_behind_each_sum_and_a_report_of_each_patient() throws Exception {
    start(new FhirServer());

    List<JsonNode> all = resources(MARCH + "&report-type=subject-list");

    JsonNode report = reports(all, "subject-list").get(0);
    JsonNode individual = reports(all, "individual").get(0);
    assertThat(all.get(0)).isEqualTo(report);
    assertThat(report.at("/group/0/population/0/count").asInt()).isEqualTo(3);
    assertThat(report.at("/group/0/population/0/subjectResults/reference").asText())
        .isEqualTo("List/" + all.get(1).get("id").asText());
    assertThat(report.at("/group/0/population/1/subjectResults/reference").asText())
        .isEqualTo("List/" + all.get(2).get("id").asText());
    assertThat(all.get(1).at("/entry/0/item/reference").asText())
        .isEqualTo("MeasureReport/" + individual.get("id").asText());
    assertThat(individual.at("/subject/identifier/value").asText()).isEqualTo("p1");
    assertThat(individual.at("/group/0/population/0/count").asInt()).isEqualTo(3);
    assertThat(individual.get("evaluatedResource").findValuesAsText("reference"))
        .extracting(reference -> reference.substring(0, reference.indexOf('/')))
        .containsExactly("Encounter", "Procedure", "DeviceUseStatement");
    for (JsonNode evaluated : individual.get("evaluatedResource")) {
      answers.get("/" + evaluated.get("reference").asText());
    }
    valid(all);
  }

  /** Source: https://hl7.org/fhir/R4/list.html: an empty List may say why it is. */
  @Test
  void a_list_of_nobody_says_that_it_is_known_to_be_empty() throws Exception {
    start(new FhirServer());

    List<JsonNode> all =
        resources("/$device-days?start=2026-02-01&end=2026-02-28&report-type=subject-list");

    assertThat(all.get(1).has("entry")).isFalse();
    assertThat(all.get(1).at("/emptyReason/coding/0/code").asText()).isEqualTo("nilknown");
    valid(all);
  }

  @Test
  void a_patient_has_a_report_of_each_ward_and_month() throws Exception {
    start(new FhirServer());
    String patient = answers.matches("/Patient").get(0);

    List<JsonNode> all = resources(MARCH + "&report-type=individual&subject=" + patient);

    assertThat(reports(all, "individual")).hasSize(2).allMatch(one -> subject(one).equals(patient));
    assertThat(reports(all, "individual"))
        .extracting(one -> ward(one).at("/0/valueReference/reference").asText())
        .containsExactly("Location/A-1", "Location/B-2");
    assertThat(all.stream().map(one -> one.get("resourceType").asText()))
        .containsExactly("MeasureReport", "MeasureReport", "Location", "Location", "Measure");
    assertThat(resources(MARCH + "&report-type=subject&subject=" + server.base() + "/" + patient))
        .isEqualTo(all);
    valid(all);
  }

  private static String subject(JsonNode report) {
    return report.at("/subject/reference").asText();
  }

  @Test
  void a_patient_who_did_not_count_has_no_report() throws Exception {
    start(new FhirServer());
    String patient = answers.matches("/Patient").get(0);

    assertThat(
            resources(
                "/$device-days?start=2026-02-01&end=2026-02-28&report-type=individual&subject="
                    + patient))
        .isEmpty();
  }

  @ParameterizedTest
  @CsvSource({
    "&report-type=everybody, 400, IND-0104",
    "&report-type=individual, 400, IND-0105",
    "&report-type=individual&subject=Device/x, 400, IND-0104",
    "&report-type=individual&subject=Patient/nobody, 404, IND-0100",
    "&subject=Patient/nobody, 400, IND-0104",
    "&report-type=subject-list&_format=csv, 400, IND-0104"
  })
  void what_does_not_go_together_is_refused(String more, int status, String code) throws Exception {
    start(new FhirServer());

    HttpResponse<String> answer = server.get(MARCH + more);

    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(status);
    assertThat(Answers.read(answer.body()).at("/issue/0/details/coding/0/code").asText())
        .isEqualTo(code);
  }

  @Test
  void the_other_spelling_of_the_types_means_the_same() throws Exception {
    start(new FhirServer());

    assertThat(resources(MARCH + "&report-type=population")).isEqualTo(resources(MARCH));
  }

  /** Nothing is wrong with any of them by R4 and their profiles. */
  private static void valid(List<JsonNode> resources) {
    for (JsonNode one : resources) {
      byte[] json = one.toString().getBytes(StandardCharsets.UTF_8);
      assertThat(VALIDATOR.validate(json).stream().filter(Finding::isError).map(Finding::line))
          .as(one.toString())
          .isEmpty();
    }
  }
}
