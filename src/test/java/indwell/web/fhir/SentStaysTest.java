package indwell.web.fhir;

import static indwell.web.fhir.SentDays.FIVE_AND_TWO;
import static indwell.web.fhir.SentDays.remarks;
import static indwell.web.fhir.SentDays.sums;
import static indwell.web.fhir.SentDays.with;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Wards, stays and what else says on which days of those sent anybody was where. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class SentStaysTest {
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
  void a_ward_has_the_code_kind_and_settings_of_its_location() throws Exception {
    List<String> lines = with(EhrResources.story(), EhrResources.location("Med", "M-2"));

    JsonNode bundle = sent.count(lines);

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
    assertThat(sums(sent.count(with(EhrResources.story(), counted)))).isEqualTo("4 1");
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

    String csv = sent.send(lines, "Accept", "text/csv").body();

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

    JsonNode bundle = sent.count(lines);

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

    assertThat(sent.count(List.of(EhrResources.patient("1"), stay)).has("entry")).isFalse();
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
        sent.count(
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
}
