package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.contract.SharedValidator;
import indwell.docs.Markdown;
import indwell.port.ProfileValidator;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** What a ward sets for itself, from its date on and not before. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class WardSettingsTest {
  private static final Pattern BODY =
      Pattern.compile(
          "ward (\\S+)(?: with (count time|care checks within) (.+) from (\\S+))?"
              + "(?: at the address of (\\S+))?");

  private static final ProfileValidator VALIDATOR = SharedValidator.WARM;

  private FhirServer server;

  @BeforeEach
  void start() throws Exception {
    server = new FhirServer(VALIDATOR);
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
  }

  @Test
  void every_outcome_is_the_one_on_the_page() throws Exception {
    List<List<String>> rows =
        Markdown.of("docs/api/ward.md").rows().stream().filter(row -> row.size() == 4).toList();
    List<String> answers = new ArrayList<>();
    List<String> expected = new ArrayList<>();
    for (List<String> row : rows.subList(1, rows.size())) {
      if (!row.get(2).matches("\\d+")) {
        continue;
      }
      HttpResponse<String> answer = send(row.get(0), row.get(1).replace("`", ""));
      String code = code(answer.body());
      answers.add(row.get(0) + " " + row.get(1) + ": " + answer.statusCode() + " " + code);
      expected.add(row.get(0) + " " + row.get(1) + ": " + row.get(2) + " " + row.get(3));
    }
    assertThat(answers).hasSize(19).isEqualTo(expected);
  }

  private HttpResponse<String> send(String body, String extra) throws Exception {
    String query = extra.contains("=") ? "?" + extra : "";
    String[] headers = extra.startsWith("If-Match: ") ? extra.split(": ") : new String[0];
    if (body.equals("no Location")) {
      return server.put("/Location/A-2", "{\"resourceType\":\"Patient\",\"id\":\"A-2\"}");
    }
    if (body.equals("no JSON")) {
      return server.put("/Location/A-2", "{");
    }
    Matcher words = BODY.matcher(body);
    assertThat(words.matches()).as(body).isTrue();
    String settings = settings(words);
    String address = words.group(5) == null ? words.group(1) : words.group(5);
    return server.put("/Location/" + address + query, ward(words.group(1), settings), headers);
  }

  private static String settings(Matcher words) {
    if (words.group(2) == null) {
      return "";
    }
    return words.group(2).equals("count time")
        ? countTime(words.group(4), words.group(3))
        : setting(words.group(4), hours("care-check-within", words.group(3).replace(" h", "")));
  }

  private static String code(String body) {
    Matcher code = Pattern.compile("\"code\":\"(IND-\\d{4})\"").matcher(body);
    return code.find() ? code.group(1) : "-";
  }

  @Test
  void a_count_time_changes_the_days_from_its_date_on_and_none_before() throws Exception {
    // Admitted on 1 March at 08:00 local, moved away on 8 March at 06:00.
    server.recordStay();
    server.record(
        FhirServer.event(
            "m1", "patient-transferred", "2026-03-08T06:00:00+01:00", "\"ward\":\"B\""));
    String before = csv();
    assertThat(before).contains("2026-03-01,A-1,0,0", "2026-03-08,A-1,1,1");

    put(ward("A-1", countTime("2026-03-05", "07:00:00")), "?restate=true");

    assertThat(csv())
        .as("counted at midnight through 4 March, at 07:00 from 5 March on")
        .isEqualTo(before.replace("2026-03-08,A-1,1,1", "2026-03-08,A-1,0,0"));
  }

  @Test
  void a_limit_holds_at_instants_from_its_date_on() throws Exception {
    server.recordStay(); // Inserted on 1 March at 09:00 local; never checked.
    put(ward("A-1", setting("2026-03-02", hours("care-check-within", "48"))), "?restate=true");

    assertThat(overdue("2026-03-01T21:00:01%2B01:00")).contains("care-check-overdue");
    assertThat(overdue("2026-03-02T00:00:00%2B01:00")).doesNotContain("care-check-overdue");
    assertThat(overdue("2026-03-03T09:00:00%2B01:00")).doesNotContain("care-check-overdue");
    assertThat(overdue("2026-03-03T09:00:01%2B01:00")).contains("care-check-overdue");
  }

  @Test
  void flags_of_the_past_stay_as_they_were_when_a_limit_changes() throws Exception {
    server.recordStay(); // Inserted on 1 March at 09:00 local; never checked.
    String since = "2026-03-01T21:00:00+01:00";
    assertThat(careFlags()).containsExactly("active " + since);

    // From 5 March on a check is due within 8 h: due since 17:00 by that limit.
    put(ward("A-1", setting("2026-03-05", hours("care-check-within", "8"))), "?restate=true");

    assertThat(careFlags())
        .containsExactlyInAnyOrder(
            "inactive " + since + " 2026-03-05T00:00:00+01:00", "active 2026-03-01T17:00:00+01:00");
  }

  private List<String> careFlags() throws Exception {
    List<String> flags = new ArrayList<>();
    String code = "https://indwell.example/fhir/CodeSystem/catheter-flag%7Ccare-check-overdue";
    for (JsonNode entry :
        new ObjectMapper().readTree(server.get("/Flag?code=" + code).body()).path("entry")) {
      JsonNode flag = entry.path("resource");
      JsonNode period = flag.path("period");
      flags.add(
          (flag.path("status").asText()
                  + " "
                  + period.path("start").asText()
                  + " "
                  + period.path("end").asText())
              .strip());
    }
    return flags;
  }

  @Test
  void a_ward_is_read_back_with_what_was_put_and_its_history_is_kept() throws Exception {
    put(ward("C", countTime("2026-03-10", "07:00:00")), "");
    put(ward("C", countTime("2026-03-11", "09:00:00")), "");

    HttpResponse<String> read = server.get("/Location/C");
    assertThat(read.headers().firstValue("ETag")).contains("W/\"2\"");
    assertThat(read.body()).contains("\"valueTime\":\"09:00:00\"", "1060-3", "Ward C");
    assertThat(server.get("/Location/C/_history").body()).contains("07:00:00", "\"total\":2");
  }

  @Test
  void an_event_of_the_ward_changes_nothing_of_what_was_put() throws Exception {
    put(ward("A-1", countTime("2026-03-10", "07:00:00")), "");
    server.recordStay();

    assertThat(server.get("/Location/A-1").body()).contains("Ward A-1", "\"versionId\":\"1\"");
  }

  @Test
  void a_ward_that_only_described_itself_is_known_and_has_no_rows() throws Exception {
    put(ward("C", ""), "");

    HttpResponse<String> days =
        server.get("/Location/C/$device-days?start=2026-03-01&end=2026-03-02");
    assertThat(days.statusCode()).isEqualTo(200);
    assertThat(days.body()).doesNotContain("MeasureReport");
    assertThat(server.get("/$overdue?ward=C").statusCode()).isEqualTo(200);
  }

  /** Source: https://hl7.org/fhir/R4/extensibility.html#modifierExtension */
  @Test
  void a_ward_with_a_modifier_is_refused_by_name_and_not_kept() throws Exception {
    String modifier =
        ",\"modifierExtension\":[{\"url\":\"https://other.example/no\",\"valueBoolean\":true}]";

    HttpResponse<String> extended = server.put("/Location/A-7", ward("A-7", modifier));
    HttpResponse<String> ruled =
        server.put(
            "/Location/A-7", ward("A-7", ",\"implicitRules\":\"https://other.example/rules\""));

    assertThat(extended.statusCode()).as(extended.body()).isEqualTo(422);
    assertThat(extended.body())
        .contains("IND-0268", "https://other.example/no", "Location.modifierExtension[0]");
    assertThat(ruled.statusCode()).as(ruled.body()).isEqualTo(422);
    assertThat(ruled.body())
        .contains("IND-0268", "https://other.example/rules", "Location.implicitRules");
    assertThat(server.get("/Location/A-7").statusCode()).isEqualTo(404);
  }

  private String csv() throws Exception {
    return server
        .get("/Location/A-1/$device-days?start=2026-03-01&end=2026-03-09", "Accept", "text/csv")
        .body();
  }

  private String overdue(String asOf) throws Exception {
    return server.get("/$overdue?ward=A-1&asOf=" + asOf).body();
  }

  private void put(String body, String query) throws Exception {
    String ward = body.replaceAll(".*\"id\":\"([^\"]+)\".*", "$1");
    assertThat(server.put("/Location/" + ward + query, body).statusCode()).isIn(200, 201);
  }

  private static String ward(String code, String settings) {
    return ("{\"resourceType\":\"Location\",\"id\":\"%s\"%s,"
            + "\"identifier\":[{\"system\":\"https://indwell.example/fhir/ward\",\"value\":\"%s\"}],"
            + "\"status\":\"active\",\"name\":\"Ward %s\",\"mode\":\"instance\","
            + "\"type\":[{\"coding\":[{\"system\":"
            + "\"https://www.cdc.gov/nhsn/cdaportal/terminology/codesystem/hsloc.html\","
            + "\"code\":\"1060-3\"}]}],\"physicalType\":{\"coding\":[{\"system\":"
            + "\"http://terminology.hl7.org/CodeSystem/location-physical-type\",\"code\":\"wa\"}]}}")
        .formatted(code, settings, code, code);
  }

  private static String countTime(String from, String time) {
    return setting(from, "{\"url\":\"count-time\",\"valueTime\":\"" + time + "\"}");
  }

  private static String hours(String name, String hours) {
    return ("{\"url\":\"%s\",\"valueQuantity\":{\"value\":%s,\"unit\":\"h\","
            + "\"system\":\"http://unitsofmeasure.org\",\"code\":\"h\"}}")
        .formatted(name, hours);
  }

  private static String setting(String from, String part) {
    return (",\"extension\":[{\"url\":"
            + "\"https://indwell.example/fhir/StructureDefinition/catheter-ward-settings\","
            + "\"extension\":[{\"url\":\"from\",\"valueDate\":\"%s\"},%s]}]")
        .formatted(from, part);
  }
}
