package indwell.web.fhir;

import static indwell.web.fhir.SentDays.FIVE_AND_TWO;
import static indwell.web.fhir.SentDays.JSON;
import static indwell.web.fhir.SentDays.MARCH;
import static indwell.web.fhir.SentDays.each;
import static indwell.web.fhir.SentDays.refusals;
import static indwell.web.fhir.SentDays.remarks;
import static indwell.web.fhir.SentDays.sums;
import static indwell.web.fhir.SentDays.with;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What was sent to be counted and cannot be, by name and place. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class SentRefusalsTest {
  private static SentDays sent;

  @BeforeAll
  static void start() throws Exception {
    sent = new SentDays();
  }

  @AfterAll
  static void stop() throws Exception {
    sent.close();
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
        "\"status\":\"completed\" | \"status\":\"completed\",\"modifierExtension\":[{\"url\":"
            + "\"https://other.example/not-done\",\"valueBoolean\":true}] | IND-0268 |"
            + " Procedure/7 (line 4) | https://other.example/not-done",
        "\"status\":\"finished\" | \"implicitRules\":\"https://other.example/rules\",\"status\":"
            + "\"finished\" | IND-0268 | Encounter/9 (line 2) | https://other.example/rules",
        "\"location\":{\"reference\" | \"modifierExtension\":[{\"url\":"
            + "\"https://other.example/no\",\"valueBoolean\":true}],\"location\":{\"reference\""
            + " | IND-0268 | Encounter/9 (line 2) | location[0].modifierExtension[0]",
        "\"status\":\"finished\" | \"\\u0069mplicitRules\":\"https://other.example/rules\",\"status\":"
            + "\"finished\" | IND-0268 | Encounter/9 (line 2) | https://other.example/rules",
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

    assertThat(sent.refused(lines))
        .anySatisfy(issue -> assertThat(issue).startsWith(code + " " + name).contains(value));
  }

  @Test
  void a_caller_who_is_lenient_has_the_rest_counted_and_is_told() throws Exception {
    List<String> lines =
        each(
            EhrResources.story(),
            one -> one.replace("2026-03-04T10:00:00Z\",\"focal", "2026-03-04\",\"focal"));

    JsonNode bundle = sent.count(lines, "Prefer", "handling=lenient");

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

    assertThat(refusals(sent.send(lines, "Prefer", "handling=lenient", "Accept", "text/csv")))
        .hasSize(1);
  }

  @Test
  void many_faults_are_counted_and_a_hundred_of_them_named() throws Exception {
    List<String> lines = new ArrayList<>();
    for (int i = 0; i < 150; i++) {
      lines.add(EhrResources.device("d" + i, "Patient/nobody"));
    }

    List<String> issues = sent.refused(lines);

    assertThat(issues).hasSize(101);
    assertThat(issues.get(100))
        .isEqualTo("IND-0348 Beside these, 50 more resources cannot be counted.");
  }

  @Test
  void the_entry_that_is_at_fault_is_named_by_its_place() throws Exception {
    List<String> story =
        each(
            EhrResources.story(),
            one -> one.replace("2026-03-04T10:00:00Z\",\"focal", "2026-03-04\",\"focal"));

    HttpResponse<String> answer = sent.post(MARCH, JSON, EhrResources.bundle("collection", story));

    assertThat(Answers.read(answer.body()).at("/issue/0/expression/0").asText())
        .isEqualTo("Bundle.entry[4].resource.performed");
  }

  @Test
  void of_what_does_not_count_any_amount_is_read_and_of_the_rest_64_MiB() throws Exception {
    String note = "x".repeat(1_000_000);
    String medication =
        "{\"resourceType\":\"Medication\",\"id\":\"%d\",\"language\":\"" + note + "\"}";
    String patient =
        EhrResources.patient("%1$d")
            .replace("\"identifier\"", "\"language\":\"" + note + "\",\"identifier\"");

    JsonNode bundle = sent.count(with(EhrResources.story(), numbered(medication, 20)));
    HttpResponse<String> tooMuch = sent.send(List.of(numbered(patient, 68)));

    assertThat(sums(bundle)).isEqualTo(FIVE_AND_TWO);
    assertThat(remarks(bundle))
        .singleElement()
        .asString()
        .contains("Passed over 20 of type Medication");
    assertThat(tooMuch.statusCode()).as(tooMuch.body()).isEqualTo(413);
    assertThat(tooMuch.body()).contains("IND-0345", "67108864");
    // What was held for the refused request has been given back.
    assertThat(sent.send(List.of(numbered(patient, 60))).statusCode()).isEqualTo(200);
    assertThat(sent.send(List.of(numbered(patient, 60))).statusCode()).isEqualTo(200);
    assertThat(sent.send(List.of(numbered(patient, 60))).statusCode()).isEqualTo(200);
  }

  private static String[] numbered(String line, int many) {
    return IntStream.range(0, many).mapToObj(line::formatted).toArray(String[]::new);
  }

  @Test
  void a_line_beyond_a_mebibyte_is_refused_and_named() throws Exception {
    String large = "{\"resourceType\":\"Patient\",\"language\":\"" + "x".repeat(1 << 20) + "\"}";

    assertThat(sent.refused(with(EhrResources.story(), large)))
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
    assertThat(sent.refused(with(EhrResources.story(), line)))
        .singleElement()
        .asString()
        .startsWith(issue);
  }

  @Test
  void an_entry_that_deletes_is_refused() throws Exception {
    String entry = "{\"request\":{\"method\":\"DELETE\",\"url\":\"Procedure/7\"}}";

    HttpResponse<String> answer =
        sent.post(
            MARCH, JSON, EhrResources.bundle("transaction", with(EhrResources.story(), entry)));

    assertThat(refusals(answer))
        .containsExactly(
            "IND-0340 Entry 5 cannot be counted: The entry has no resource; expected one to be"
                + " counted.");
  }
}
