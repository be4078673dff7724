package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.http.HttpResponse;
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
 * What search parameters mean (https://hl7.org/fhir/R4/search.html). One stay: admitted on 1 March
 * at 08:00 local (Berlin, +01:00), inserted at 09:00, removed on 5 March at 09:00, discharged on 6
 * March at 10:00.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class SearchSemanticsTest {
  private FhirServer server;
  private Answers answers;

  @BeforeEach
  void start() throws Exception {
    server = new FhirServer();
    answers = new Answers(server);
    server.recordStay();
    server.record(
        FhirServer.event(
            "e5", "catheter-removed", "2026-03-05T09:00:00+01:00", "\"catheterId\":\"c1\""),
        FhirServer.event("e6", "patient-discharged", "2026-03-06T10:00:00+01:00", ""));
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
  }

  /** The insertion is at 2026-03-01T08:00:00Z, given to the second. */
  @ParameterizedTest
  @CsvSource({
    "2026, true",
    "2026-03, true",
    "2026-03-01, true",
    "2026-03-01T09:00, true",
    "2026-03-01T09:00:00, true",
    "2026-03-01T08:00:00Z, true",
    "2026-03-01T09:00:00%2B01:00, true",
    "2026-03-01T09:00:00+01:00, true",
    "2026-03-01T08:00, false",
    "2026-03-02, false",
    "eq2026-03-01, true",
    "ne2026-03-01, false",
    "ne2026-03-02, true",
    "gt2026-03-01, false",
    "gt2026-02-28, true",
    "ge2026-03-01, true",
    "ge2026-03-01T09:00:01, false",
    "lt2026-03-01, false",
    "lt2026-03-01T09:00:01, true",
    "le2026-03-01, true",
    "le2026-02-28, false",
    "sa2026-02-28, true",
    "sa2026-03-01, false",
    "eb2026-03-02, true",
    "eb2026-03-01, false",
    "ap2026-03-01, true",
    "ap2025-03-01, false",
    "'2026-03-07,2026-03-01', true",
    "'2026-03-07,2026-03-08', false"
  })
  void a_date_stands_for_the_whole_of_its_precision(String value, boolean found) throws Exception {
    assertThat(answers.matches("/Procedure?code=410024004&date=" + value)).hasSize(found ? 1 : 0);
  }

  /** The stay lasts from 2026-03-01T08:00 to 2026-03-06T10:00 local. */
  @ParameterizedTest
  @CsvSource({
    "2026-03, true",
    "2026-03-03, false",
    "ge2026-03-03, true",
    "le2026-03-03, true",
    "gt2026-03-06, false",
    "sa2026-02-28, true",
    "eb2026-03-06, false",
    "eb2026-03-07, true",
    "ap2026-03-03, true"
  })
  void a_period_is_compared_whole(String value, boolean found) throws Exception {
    assertThat(answers.matches("/Encounter?date=" + value)).hasSize(found ? 1 : 0);
  }

  @Test
  void an_open_period_meets_every_later_date() throws Exception {
    server.record(
        FhirServer.event(
            "e7",
            "catheter-inserted",
            "2026-03-08T09:00:00+01:00",
            "\"catheterId\":\"c2\",\"route\":\"urethral\",\"sizeCh\":14,"
                + "\"indication\":\"acute-retention\""));
    assertThat(answers.matches("/DeviceUseStatement?period=ge2031")).hasSize(1);
    assertThat(answers.matches("/DeviceUseStatement?period=le2026-03-05")).hasSize(1);
    assertThat(answers.matches("/DeviceUseStatement?status=active&period=2026")).isEmpty();
  }

  @ParameterizedTest
  @CsvSource({
    "code=410024004, 1",
    "code=http://snomed.info/sct%7C410024004, 1",
    "code=http://snomed.info/sct%7C, 2",
    "code=%7C410024004, 0",
    "code=urn:other%7C410024004, 0",
    "'code=410024004,43748006', 2",
    "code=410024004&code=43748006, 0",
    "code:not=410024004, 1",
    "'code:not=410024004,43748006', 0",
    "status=completed, 2",
    "status=http://hl7.org/fhir/event-status%7Ccompleted, 2",
    "status=COMPLETED, 0",
    "location:missing=true, 1",
    "location:missing=false, 1",
    "location=A-1, 1",
    "location=Location/A-1, 1",
    "location=Location/A-2, 0",
    "location:Location=A-1, 1",
    "patient.identifier=urn:test:mrn%7Cp1, 2",
    "patient:Patient.identifier=p1, 2",
    "patient.identifier=p9, 0",
    "encounter.identifier=s1, 2",
    "encounter.identifier=s9, 0",
    "identifier=https://indwell.example/fhir/event%7Cward:e2, 1",
    "'identifier=ward:e2,ward:e5', 2",
    "identifier=ward:e2&identifier=ward:e5, 0",
    "identifier:missing=true, 0",
    "_lastUpdated=2026-03-10, 2",
    "_lastUpdated=gt2026-03-10, 0",
    "reason-code=acute-retention, 1",
    "patient:missing=true, 0",
    "patient:missing=false, 2"
  })
  void a_procedure_is_found(String query, int number) throws Exception {
    assertThat(answers.matches("/Procedure?" + query)).as(query).hasSize(number);
    assertThat(answers.get("/Procedure?_summary=count&" + query).get("total").asInt())
        .isEqualTo(number);
  }

  @ParameterizedTest
  @CsvSource({"name=a, 1", "name=A-, 1", "name=A-1x, 0", "name=-1, 0", "name:missing=true, 0"})
  void a_name_is_found_by_how_it_begins(String query, int number) throws Exception {
    assertThat(answers.matches("/Location?" + query)).hasSize(number);
  }

  @Test
  void repetition_narrows_and_ids_meet() throws Exception {
    String one = answers.matches("/Procedure?code=410024004").get(0).substring(10);
    assertThat(answers.matches("/Procedure?_id=" + one + ",x")).hasSize(1);
    assertThat(answers.matches("/Procedure?_id=" + one + "&_id=x")).isEmpty();
    assertThat(answers.matches("/Procedure?date=ge2026-03-01&date=lt2026-03-02")).hasSize(1);
  }

  @Test
  void references_lead_from_one_resource_to_the_next() throws Exception {
    String device = answers.matches("/Device").get(0);
    assertThat(answers.matches("/Procedure?focal-device=" + device)).hasSize(2);
    assertThat(answers.matches("/DeviceUseStatement?device=" + device)).hasSize(1);
    String insertion = answers.matches("/Procedure?code=410024004").get(0);
    assertThat(answers.matches("/Provenance?target=" + insertion)).hasSize(1);
    assertThat(answers.matches("/Provenance?target=" + insertion.substring(10))).hasSize(1);
    assertThat(answers.matches("/Provenance?recorded=2026-03-10")).hasSize(6);
    assertThat(answers.matches("/Specimen?collected=2026-03-01&type=446846006")).hasSize(1);
    assertThat(answers.matches("/Encounter?class=IMP&location=A-1&location-period=ge2026-03-02"))
        .hasSize(1);
  }

  @Test
  void what_a_match_refers_to_and_what_refers_to_it_can_be_added() throws Exception {
    JsonNode bundle =
        answers.get(
            "/Procedure?code=410024004&_include=Procedure:patient&_include=Procedure:encounter"
                + "&_include=Procedure:focal-device&_include=Procedure:location:Location"
                + "&_revinclude=Provenance:target");
    assertThat(Answers.resources(bundle, "match")).hasSize(1);
    assertThat(Answers.resources(bundle, "include"))
        .extracting(one -> one.get("resourceType").asText())
        .containsExactlyInAnyOrder("Patient", "Encounter", "Device", "Location", "Provenance");
    assertThat(bundle.get("total").asInt()).isEqualTo(1);
  }

  @Test
  void everything_about_a_patient_comes_with_them() throws Exception {
    JsonNode bundle =
        answers.get("/Patient?_revinclude=Procedure:patient&_revinclude=Observation:subject");
    assertThat(Answers.resources(bundle, "include"))
        .extracting(one -> one.get("resourceType").asText())
        .containsOnly("Procedure", "Observation")
        .contains("Procedure", "Observation");
  }

  @Test
  void a_form_asks_for_the_same_as_an_address() throws Exception {
    HttpResponse<String> form =
        server.post(
            "/Procedure/_search?status=completed",
            "application/x-www-form-urlencoded",
            "code=http%3A%2F%2Fsnomed.info%2Fsct%7C410024004&_count=1");
    assertThat(form.statusCode()).isEqualTo(200);
    assertThat(Answers.read(form.body()).get("total").asInt()).isEqualTo(1);
    assertThat(server.post("/Procedure/_search", "application/json", "{}").statusCode())
        .isEqualTo(415);
  }

  @ParameterizedTest
  @CsvSource({"none, false", "accurate, true", "estimate, true"})
  void the_total_is_given_as_asked_for(String total, boolean given) throws Exception {
    assertThat(answers.get("/Procedure?_total=" + total).has("total")).isEqualTo(given);
  }

  @ParameterizedTest
  @ValueSource(strings = {"date", "-date", "_lastUpdated", "-_lastUpdated", "_id", "-_id"})
  void an_order_is_kept(String sort) throws Exception {
    List<String> all = answers.matches("/Procedure?_sort=" + sort);
    assertThat(all).hasSize(2);
    if (sort.endsWith("date")) {
      String first = sort.startsWith("-") ? "43748006" : "410024004";
      assertThat(all.get(0)).isEqualTo(answers.matches("/Procedure?code=" + first).get(0));
    }
  }

  @ParameterizedTest
  @CsvSource({
    "/Procedure?date=yesterday, IND-0104",
    "/Procedure?date=2026-13, IND-0104",
    "/Procedure?date=2026-02-30, IND-0104",
    "/Procedure?date=xx2026, IND-0104",
    "/Procedure?date=2026-03-01T25:00, IND-0104",
    "/Procedure?date=2026-03-01T09, IND-0104",
    "/Procedure?date=, IND-0104",
    "'/Procedure?date=2026,', IND-0104",
    "/Procedure?date:not=2026, IND-0240",
    "/Procedure?date.x=2026, IND-0240",
    "/Procedure?date:missing=maybe, IND-0104",
    "/Procedure?code=, IND-0104",
    "'/Procedure?code=,x', IND-0104",
    "/Procedure?code=%7C, IND-0104",
    "/Procedure?code=a%5C, IND-0104",
    "/Procedure?code:in=x, IND-0240",
    "/Procedure?code:text=x, IND-0240",
    "/Procedure?code.x=y, IND-0240",
    "/Procedure?_id:not=x, IND-0240",
    "/Procedure?patient=, IND-0104",
    "/Procedure?patient:Device=x, IND-0240",
    "/Procedure?patient.name=x, IND-0240",
    "/Procedure?patient.identifier=%7C, IND-0104",
    "/Procedure?patient:not=x, IND-0240",
    "/Location?name=, IND-0104",
    "/Location?name:exact=x, IND-0240",
    "/Procedure?_lastUpdated=soon, IND-0104",
    "/Procedure?_sort=status, IND-0104",
    "'/Procedure?_sort=date,_id', IND-0104",
    "/Procedure?_sort=, IND-0104",
    "/Procedure?_total=some, IND-0104",
    "/Procedure?_include=*, IND-0104",
    "/Procedure?_include=Procedure:code, IND-0104",
    "/Procedure?_include=Procedure:patient:Device, IND-0104",
    "/Procedure?_include:iterate=Procedure:patient, IND-0240",
    "/Procedure?_revinclude=Patient:x, IND-0104",
    "/Procedure?_has:Observation:part-of:code=x, IND-0103",
    "/Procedure?_after=x, IND-0104",
    "/Procedure?_elements=colour, IND-0104",
    "/Procedure/_history?_since=yesterday, IND-0104",
    "/Procedure/_history?_after=%21, IND-0104",
    "/Procedure/_history?_count=-1, IND-0104",
    "/Procedure/_history?_at=2026, IND-0103",
    "/_history?_type=Procedure, IND-0103"
  })
  void what_cannot_be_read_is_refused(String path, String code) throws Exception {
    HttpResponse<String> response = server.get(path);
    assertThat(response.statusCode()).as(response.body()).isEqualTo(400);
    JsonNode issue = Answers.read(response.body()).at("/issue/0");
    assertThat(issue.at("/details/coding/0/code").asText()).isEqualTo(code);
    assertThat(issue.get("diagnostics").asText()).contains("expected");
  }

  @Test
  void a_page_of_one_search_is_no_page_of_another() throws Exception {
    String next = answers.next(answers.get("/Procedure?_count=1&_sort=date")).orElseThrow();
    assertThat(server.get(next.replace("_sort=date", "_sort=-date")).statusCode()).isEqualTo(400);
    assertThat(answers.matches(next)).hasSize(1);
  }

  @Test
  void a_modifier_that_is_not_supported_is_refused_even_when_lenient() throws Exception {
    assertThat(server.get("/Procedure?code:in=x", "Prefer", "handling=lenient").statusCode())
        .isEqualTo(400);
    assertThat(server.get("/Procedure?colour=x", "Prefer", "handling=lenient").statusCode())
        .isEqualTo(200);
  }
}
