package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import indwell.boot.Validators;
import indwell.port.ProfileValidator;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.UnaryOperator;
import java.util.stream.IntStream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * {@code $device-days} of resources of another system, which never become a part of the record. The
 * numbers are those of the midnights that lie within each story (CDC form 57.118: who is there at
 * the count time counts).
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class SentDeviceDaysTest {
  private static final String JSON = "application/fhir+json";
  private static final String LINES = "application/fhir+ndjson";
  private static final String MARCH = "/$device-days?start=2026-03-01&end=2026-03-07";
  private static final ProfileValidator VALIDATOR = Validators.warm();

  /** Midnights in Berlin: patient days 2 to 6 March, with the catheter on 3 and 4 March. */
  private static final String FIVE_AND_TWO = "5 2";

  private static FhirServer server;

  @BeforeAll
  static void start() throws Exception {
    server = new FhirServer(VALIDATOR);
  }

  @AfterAll
  static void stop() throws Exception {
    // Whatever was sent, nothing was stored.
    assertThat(new Answers(server).get("/_history").get("total").asInt()).isZero();
    server.close();
  }

  private static HttpResponse<String> send(List<String> lines, String... headers) throws Exception {
    return server.post(MARCH, LINES, String.join("\n", lines), headers);
  }

  private static JsonNode count(List<String> lines, String... headers) throws Exception {
    HttpResponse<String> answer = send(lines, headers);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    return Answers.read(answer.body());
  }

  /** Both counts of the first report, after its ward. */
  private static String sums(JsonNode bundle) {
    JsonNode report = bundle.at("/entry/0/resource");
    return report.at("/group/0/population/0/count").asText()
        + " "
        + report.at("/group/0/population/1/count").asText();
  }

  private static List<String> remarks(JsonNode bundle) {
    List<String> remarks = new ArrayList<>();
    for (JsonNode entry : bundle.path("entry")) {
      for (JsonNode issue : entry.at("/resource/issue")) {
        assertThat(issue.get("severity").asText()).isEqualTo("warning");
        remarks.add(
            issue.at("/details/coding/0/code").asText() + " " + issue.get("diagnostics").asText());
      }
    }
    return remarks;
  }

  private static List<String> refused(List<String> lines) throws Exception {
    return refusals(send(lines));
  }

  private static List<String> refusals(HttpResponse<String> answer) throws Exception {
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(422);
    List<String> issues = new ArrayList<>();
    for (JsonNode issue : Answers.read(answer.body()).get("issue")) {
      issues.add(
          issue.at("/details/coding/0/code").asText() + " " + issue.get("diagnostics").asText());
    }
    return issues;
  }

  private static List<String> with(List<String> lines, String... more) {
    List<String> all = new ArrayList<>(lines);
    all.addAll(List.of(more));
    return all;
  }

  private static List<String> each(List<String> lines, UnaryOperator<String> change) {
    return lines.stream().map(change).toList();
  }

  @Test
  void a_stay_that_names_wards_and_no_movements_is_counted_by_them() throws Exception {
    JsonNode bundle = count(EhrResources.story());

    assertThat(sums(bundle)).isEqualTo(FIVE_AND_TWO);
    assertThat(bundle.at("/entry/0/resource/subject/reference").asText()).isEqualTo("Location/Med");
    assertThat(remarks(bundle)).isEmpty();
  }

  @Test
  void the_table_has_the_same_numbers() throws Exception {
    assertThat(send(EhrResources.story(), "Accept", "text/csv").body())
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

    assertThat(server.post("/Location/Med" + range, LINES, body).statusCode()).isEqualTo(200);
    assertThat(server.post("/Location/Surg" + range, LINES, body).statusCode()).isEqualTo(404);
  }

  @ParameterizedTest
  @ValueSource(strings = {"application/fhir+ndjson", "application/x-ndjson", "application/ndjson"})
  void lines_have_three_names(String type) throws Exception {
    String body = String.join("\r\n\r\n", EhrResources.story()) + "\r\n";

    HttpResponse<String> answer = server.post(MARCH, type + "; charset=utf-8", body);

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

    assertThat(sums(Answers.read(server.post(MARCH, JSON, bundle).body()))).isEqualTo(FIVE_AND_TWO);
    assertThat(sums(Answers.read(server.post("/$device-days", JSON, parameters).body())))
        .isEqualTo(FIVE_AND_TWO);
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
        server.post(MARCH, JSON, EhrResources.bundle("transaction", entries));

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

    assertThat(sums(count(lines))).isEqualTo(FIVE_AND_TWO);
    assertThat(
            sums(
                Answers.read(
                    server.post(MARCH, JSON, EhrResources.bundle("searchset", entries)).body())))
        .isEqualTo(FIVE_AND_TWO);
  }

  @Test
  void a_reference_may_be_an_identifier() throws Exception {
    String logical =
        "{\"type\":\"Patient\",\"identifier\":{\"system\":\"urn:ehr:mrn\",\"value\":\"MRN-1\"}}";

    assertThat(
            sums(
                count(
                    each(
                        EhrResources.story(),
                        one -> one.replace("{\"reference\":\"Patient/1\"}", logical)))))
        .isEqualTo(FIVE_AND_TWO);
    assertThat(
            sums(
                count(
                    each(
                        EhrResources.story(),
                        one ->
                            one.replace("Patient/1\"", "Patient?identifier=urn:ehr:mrn|MRN-1\"")))))
        .isEqualTo(FIVE_AND_TWO);
  }

  @Test
  void a_ward_has_the_code_kind_and_settings_of_its_location() throws Exception {
    List<String> lines = with(EhrResources.story(), EhrResources.location("Med", "M-2"));

    JsonNode bundle = count(lines);

    assertThat(sums(bundle)).isEqualTo(FIVE_AND_TWO);
    assertThat(bundle.at("/entry/0/resource/subject/reference").asText()).isEqualTo("Location/M-2");
    assertThat(bundle.at("/entry/0/resource/extension/1/extension/1/valueCoding/code").asText())
        .isEqualTo("1060-3");
    JsonNode location = bundle.at("/entry/1/resource");
    assertThat(location.get("id").asText()).isEqualTo("M-2");
    assertThat(location.at("/type/0/coding/0/code").asText()).isEqualTo("1060-3");
    String counted =
        lines
            .get(lines.size() - 1)
            .replace(
                "\"identifier\"",
                "\"extension\":[{\"url\":\"https://indwell.example/fhir/StructureDefinition/"
                    + "catheter-ward-settings\",\"extension\":[{\"url\":\"from\",\"valueDate\":"
                    + "\"2026-03-04\"},{\"url\":\"count-time\",\"valueTime\":\"12:00:00\"}]}],"
                    + "\"identifier\"");
    // At noon of 4 March the catheter, removed at 11:00 local, is out; at noon of 6 March the
    // patient, who left at 11:00, is gone.
    assertThat(sums(count(with(EhrResources.story(), counted)))).isEqualTo("4 1");
  }

  @Test
  void a_stay_moves_from_ward_to_ward_whatever_rooms_it_names() throws Exception {
    List<String> lines =
        List.of(
            EhrResources.patient("1"),
            EhrResources.stay(
                "9",
                "Patient/1",
                "in-progress",
                "IMP",
                "2026-03-01T10:00:00Z",
                "",
                EhrResources.entry("bd", "Med-12", "2026-03-01T10:00:00Z", ""),
                EhrResources.ward("Surg", "2026-03-04T10:00:00Z", ""),
                EhrResources.ward("Med", "2026-03-01T10:00:00Z", "2026-03-04T10:00:00Z")));

    String csv = send(lines, "Accept", "text/csv").body();

    assertThat(csv)
        .contains("2026-03-04,Med,1,0\r\n", "2026-03-05,Med,0,0\r\n", "2026-03-05,Surg,1,0\r\n")
        .doesNotContain("Med-12");
  }

  @Test
  void a_time_without_a_ward_is_counted_in_the_last_one_and_told() throws Exception {
    List<String> lines =
        List.of(
            EhrResources.patient("1"),
            EhrResources.stay(
                "9",
                "Patient/1",
                "finished",
                "IMP",
                "2026-03-01T10:00:00Z",
                "2026-03-06T10:00:00Z",
                EhrResources.ward("Med", "2026-03-01T10:00:00Z", "2026-03-02T10:00:00Z"),
                EhrResources.ward("Med", "2026-03-04T10:00:00Z", "2026-03-06T10:00:00Z")));

    JsonNode bundle = count(lines);

    assertThat(sums(bundle)).isEqualTo("5 0");
    assertThat(remarks(bundle))
        .containsExactly(
            "IND-0347 Encounter/9 (line 2) names no ward from 2026-03-02T11:00:00+01:00 to"
                + " 2026-03-04T11:00:00+01:00; the patient was counted in ward Med until the next"
                + " movement.");
  }

  @Test
  void an_ambulatory_stay_makes_no_day() throws Exception {
    String stay =
        EhrResources.stay(
            "9",
            "Patient/1",
            "finished",
            "AMB",
            "2026-03-01T10:00:00Z",
            "2026-03-06T10:00:00Z",
            EhrResources.ward("ED", "2026-03-01T10:00:00Z", "2026-03-06T10:00:00Z"));

    assertThat(count(List.of(EhrResources.patient("1"), stay)).has("entry")).isFalse();
  }

  @Test
  void what_says_nothing_that_counts_is_named() throws Exception {
    String notDone =
        EhrResources.insertion("20", "Patient/1", "Encounter/9", "Device/5", "2026-03-01T12:00:00Z")
            .replace("\"completed\"", "\"not-done\"");
    String other =
        EhrResources.removal("21", "Patient/1", "Device/5", "2026-03-01T12:00:00Z")
            .replace("43748006", "80146002");
    String clinic =
        EhrResources.stay(
            "22", "Patient/1", "finished", "AMB", "2026-03-01T08:00:00Z", "2026-03-01T09:00:00Z");

    JsonNode bundle =
        count(
            with(
                EhrResources.story(),
                notDone,
                other,
                other.replace("\"21\"", "\"23\""),
                clinic,
                "{\"resourceType\":\"Medication\",\"id\":\"24\"}"));

    assertThat(sums(bundle)).isEqualTo(FIVE_AND_TWO);
    assertThat(remarks(bundle))
        .containsExactly(
            "IND-0342 Passed over 1 of type Medication, since no day follows from that type.",
            "IND-0342 Passed over 1 of type Procedure, since what they are about did not take"
                + " place: Procedure/20.",
            "IND-0342 Passed over 2 of type Procedure, since they have no code or profile that is"
                + " counted: Procedure/21, Procedure/23.",
            "IND-0342 Passed over 1 of type Encounter, since they name no ward: Encounter/22.");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "\"performedDateTime\":\"2026-03-02T10:00:00Z\" | \"performedDateTime\":\"2026-03-02\""
            + " | IND-0341 | Procedure/7 (line 4) | 2026-03-02",
        "\"status\":\"completed\",\"code\":{\"coding\":[{\"system\":\"http://snomed.info/sct\","
            + "\"code\":\"410024004\" | \"status\":\"on-hold\",\"code\":{\"coding\":[{\"system\":"
            + "\"http://snomed.info/sct\",\"code\":\"410024004\" | IND-0341 |"
            + " Procedure/7 (line 4) | on-hold",
        "{\"url\":\"drainage\",\"valueCode\":\"bag\"}, | '' | IND-0341 | Procedure/7 (line 4) |"
            + " drainage",
        "\"code\":\"IMP\" | \"code\":\"OBSENC\" | IND-0341 | Encounter/9 (line 2) | OBSENC",
        "\"physicalType\" | \"text\" | IND-0253 | Encounter (line 2) | R4",
        "Device/5 | Device/6 | IND-0254 | Procedure/7 (line 4) | Device/6",
        "Encounter/9 | Encounter/10 | IND-0254 | Procedure/7 (line 4) | Encounter/10",
        "\"reference\":\"Patient/1\" | \"reference\":\"Patient/2\" | IND-0254 |"
            + " Encounter/9 (line 2) | Patient/2",
        "\"system\":\"urn:ehr:procedure\", | '' | IND-0256 | Procedure/7 (line 4) | identifier",
        "acute-retention | any-reason | IND-0253 | Procedure/7 (line 4) | any-reason",
        "2026-03-04T10:00:00Z | 2027-03-04T10:00:00Z | IND-0017 | Procedure/8 (line 5) |"
            + " 2027-03-04T10:00:00Z"
      })
  void what_counts_and_cannot_be_read_refuses_all_and_is_named(
      String part, String other, String code, String name, String value) throws Exception {
    List<String> lines = each(EhrResources.story(), one -> one.replace(part, other));

    assertThat(refused(lines))
        .anySatisfy(issue -> assertThat(issue).startsWith(code + " " + name).contains(value));
  }

  @Test
  void a_caller_who_is_lenient_has_the_rest_counted_and_is_told() throws Exception {
    List<String> lines =
        each(
            EhrResources.story(),
            one -> one.replace("2026-03-04T10:00:00Z\",\"focal", "2026-03-04\",\"focal"));

    JsonNode bundle = count(lines, "Prefer", "handling=lenient");

    // Without its removal the catheter stays until the discharge.
    assertThat(sums(bundle)).isEqualTo("5 4");
    assertThat(remarks(bundle))
        .contains(
            "IND-0341 Procedure/8 (line 5) cannot be counted: Time \"2026-03-04\" is no date-time"
                + " with seconds and an offset; expected what its profile asks for.");
  }

  @Test
  void a_table_has_no_place_for_remarks_and_so_none_is_given() throws Exception {
    List<String> lines =
        each(
            EhrResources.story(),
            one ->
                one.replace(
                    "\"performedDateTime\":\"2026-03-04T10:00:00Z\"",
                    "\"performedDateTime\":\"2026-03-04\""));

    assertThat(refusals(send(lines, "Prefer", "handling=lenient", "Accept", "text/csv")))
        .hasSize(1);
  }

  @Test
  void of_one_resource_the_latest_version_counts_in_whatever_order() throws Exception {
    String early =
        EhrResources.removal("8", "Patient/1", "Device/5", "2026-03-03T10:00:00Z")
            .replace("\"identifier\"", "\"meta\":{\"versionId\":\"1\"},\"identifier\"");
    String late =
        EhrResources.removal("8", "Patient/1", "Device/5", "2026-03-04T10:00:00Z")
            .replace("\"identifier\"", "\"meta\":{\"versionId\":\"10\"},\"identifier\"");
    List<String> rest = EhrResources.story().subList(0, 4);

    assertThat(sums(count(with(rest, early, late)))).isEqualTo(FIVE_AND_TWO);
    assertThat(sums(count(with(rest, late, early, early)))).isEqualTo(FIVE_AND_TWO);
    String withdrawn = late.replace("\"10\"", "\"11\"").replace("completed", "entered-in-error");
    assertThat(sums(count(with(rest, withdrawn, late)))).isEqualTo("5 4");
  }

  @Test
  void without_a_version_the_time_of_writing_decides() throws Exception {
    String early =
        EhrResources.removal("8", "Patient/1", "Device/5", "2026-03-03T10:00:00Z")
            .replace(
                "\"identifier\"",
                "\"meta\":{\"lastUpdated\":\"2026-03-05T10:00:00Z\"},\"identifier\"");
    String late =
        EhrResources.removal("8", "Patient/1", "Device/5", "2026-03-04T10:00:00Z")
            .replace(
                "\"identifier\"",
                "\"meta\":{\"lastUpdated\":\"2026-03-05T11:00:00Z\"},\"identifier\"");

    assertThat(sums(count(with(EhrResources.story().subList(0, 4), late, early))))
        .isEqualTo(FIVE_AND_TWO);
  }

  @Test
  void the_same_resource_twice_counts_once_and_two_that_differ_are_refused() throws Exception {
    List<String> story = EhrResources.story();
    List<String> twice = with(story, story.toArray(String[]::new));
    String other = EhrResources.removal("8", "Patient/1", "Device/5", "2026-03-03T10:00:00Z");

    assertThat(sums(count(twice))).isEqualTo(FIVE_AND_TWO);
    assertThat(refused(with(story, other)))
        .singleElement()
        .asString()
        .startsWith(
            "IND-0343 Procedure/8 (line 5) cannot be counted: The resource stands at line 6");
  }

  @Test
  void two_resources_of_one_event_that_differ_are_refused() throws Exception {
    String same = EhrResources.removal("8", "Patient/1", "Device/5", "2026-03-04T10:00:00Z");
    String other = EhrResources.removal("8", "Patient/1", "Device/5", "2026-03-03T10:00:00Z");

    assertThat(
            sums(count(with(EhrResources.story(), same.replace("\"id\":\"8\"", "\"id\":\"18\"")))))
        .isEqualTo(FIVE_AND_TWO);
    assertThat(refused(with(EhrResources.story(), other.replace("\"id\":\"8\"", "\"id\":\"18\""))))
        .singleElement()
        .asString()
        .startsWith("IND-0262 Procedure/18 (line 6) cannot be counted: Another resource tells");
  }

  @Test
  void a_use_that_agrees_with_its_procedures_is_silent_and_one_that_does_not_is_told()
      throws Exception {
    String agrees =
        EhrResources.use(
            "3",
            "Patient/1",
            "Procedure/7",
            "Device/5",
            "2026-03-02T10:00:00Z",
            "2026-03-04T10:00:00Z");

    assertThat(remarks(count(with(EhrResources.story(), agrees)))).isEmpty();
    JsonNode bundle = count(with(EhrResources.story(), agrees.replace("2026-03-04", "2026-03-05")));
    assertThat(sums(bundle)).isEqualTo(FIVE_AND_TWO);
    assertThat(remarks(bundle))
        .containsExactly(
            "IND-0344 DeviceUseStatement/3 (line 6) says otherwise than the Procedures that were"
                + " sent, which put the catheter in place from 2026-03-02T11:00:00+01:00 to"
                + " 2026-03-04T11:00:00+01:00; the Procedures were counted.");
  }

  @Test
  void a_use_whose_procedure_was_not_sent_is_refused() throws Exception {
    String use =
        EhrResources.use("3", "Patient/1", "Procedure/70", "Device/5", "2026-03-02T10:00:00Z", "");

    assertThat(refused(with(EhrResources.story(), use)))
        .singleElement()
        .asString()
        .startsWith("IND-0258 DeviceUseStatement/3 (line 6) cannot be counted");
  }

  @Test
  void many_faults_are_counted_and_a_hundred_of_them_named() throws Exception {
    List<String> lines = new ArrayList<>();
    for (int i = 0; i < 150; i++) {
      lines.add(EhrResources.device("d" + i, "Patient/nobody"));
    }

    List<String> issues = refused(lines);

    assertThat(issues).hasSize(101);
    assertThat(issues.get(100))
        .isEqualTo("IND-0348 Beside these, 50 more resources cannot be counted.");
  }

  @Test
  void a_patient_is_asked_for_and_told_by_the_names_that_were_sent() throws Exception {
    String body = String.join("\n", EhrResources.story());

    HttpResponse<String> answer =
        server.post(MARCH + "&report-type=individual&subject=Patient/1", LINES, body);

    JsonNode report = Answers.read(answer.body()).at("/entry/0/resource");
    assertThat(report.at("/subject/reference").asText()).isEqualTo("Patient/1");
    assertThat(report.at("/subject/identifier/value").asText()).isEqualTo("MRN-1");
    assertThat(report.get("evaluatedResource").findValuesAsText("reference"))
        .contains("Encounter/9", "Procedure/7");
    assertThat(
            server
                .post(MARCH + "&report-type=individual&subject=Patient/2", LINES, body)
                .statusCode())
        .isEqualTo(404);
  }

  @Test
  void the_entry_that_is_at_fault_is_named_by_its_place() throws Exception {
    List<String> story =
        each(
            EhrResources.story(),
            one -> one.replace("2026-03-04T10:00:00Z\",\"focal", "2026-03-04\",\"focal"));

    HttpResponse<String> answer =
        server.post(MARCH, JSON, EhrResources.bundle("collection", story));

    assertThat(Answers.read(answer.body()).at("/issue/0/expression/0").asText())
        .isEqualTo("Bundle.entry[4].resource.performed");
  }

  @Test
  void of_what_does_not_count_any_amount_is_read_and_of_the_rest_64_MiB() throws Exception {
    String note = "x".repeat(1_000_000);
    String medication =
        "{\"resourceType\":\"Medication\",\"id\":\"%d\",\"implicitRules\":\"" + note + "\"}";
    String patient =
        EhrResources.patient("%1$d")
            .replace("\"identifier\"", "\"implicitRules\":\"" + note + "\",\"identifier\"");

    JsonNode bundle = count(with(EhrResources.story(), numbered(medication, 20)));
    HttpResponse<String> tooMuch = send(List.of(numbered(patient, 68)));

    assertThat(sums(bundle)).isEqualTo(FIVE_AND_TWO);
    assertThat(remarks(bundle))
        .singleElement()
        .asString()
        .contains("Passed over 20 of type Medication");
    assertThat(tooMuch.statusCode()).as(tooMuch.body()).isEqualTo(413);
    assertThat(tooMuch.body()).contains("IND-0345", "67108864");
    // What was held for the refused request has been given back.
    assertThat(send(List.of(numbered(patient, 60))).statusCode()).isEqualTo(200);
    assertThat(send(List.of(numbered(patient, 60))).statusCode()).isEqualTo(200);
    assertThat(send(List.of(numbered(patient, 60))).statusCode()).isEqualTo(200);
  }

  private static String[] numbered(String line, int many) {
    return IntStream.range(0, many).mapToObj(line::formatted).toArray(String[]::new);
  }

  @Test
  void a_line_beyond_a_mebibyte_is_refused_and_named() throws Exception {
    String large =
        "{\"resourceType\":\"Patient\",\"implicitRules\":\"" + "x".repeat(1 << 20) + "\"}";

    assertThat(refused(with(EhrResources.story(), large)))
        .containsExactly(
            "IND-0345 Line 6 cannot be counted: The resource is larger than 1048576 bytes; expected"
                + " at most that.");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "{\"resourceType\":\"Patient\" | IND-0001 Line 6 cannot be counted",
        "{\"resourceType\":\"Patient\",\"id\":\"a\",\"id\":\"b\"} | IND-0002 Line 6 cannot be",
        "[] | IND-0106 Line 6 cannot be counted",
        "{\"resourceType\":\"Catheter\"} | IND-0106 Line 6 cannot be counted: Type \"Catheter\"",
        "{\"resourceType\":\"Bundle\",\"type\":\"collection\"} | IND-0340 Line 6 cannot be counted"
      })
  void a_line_that_is_no_resource_is_refused_and_named(String line, String issue) throws Exception {
    assertThat(refused(with(EhrResources.story(), line)))
        .singleElement()
        .asString()
        .startsWith(issue);
  }

  /** The insertion of the page on transactions: its stay is in ward A-1 from 1 March on. */
  @Test
  void a_transaction_is_counted_without_being_made() throws Exception {
    String transaction = Files.readString(Path.of("docs/api/transaction-insertion.json"));

    HttpResponse<String> answer = server.post(MARCH, JSON, transaction);

    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    assertThat(sums(Answers.read(answer.body()))).isEqualTo("6 6");
  }

  @Test
  void an_entry_that_deletes_is_refused() throws Exception {
    String entry = "{\"request\":{\"method\":\"DELETE\",\"url\":\"Procedure/7\"}}";

    HttpResponse<String> answer =
        server.post(
            MARCH, JSON, EhrResources.bundle("transaction", with(EhrResources.story(), entry)));

    assertThat(refusals(answer))
        .containsExactly(
            "IND-0340 Entry 5 cannot be counted: The entry has no resource; expected one to be"
                + " counted.");
  }
}
