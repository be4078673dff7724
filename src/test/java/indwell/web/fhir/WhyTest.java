package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Every day number, count and flag can be asked why: rule, source, and facts with their events. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class WhyTest {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final String TRACE =
      "https://indwell.example/fhir/StructureDefinition/catheter-trace";

  private static final String COUNTED =
      "DEN-1 Patient days: 1, counted at the ward's count time; with a urethral catheter with a"
          + " drainage bag in place: 1. ";

  private FhirServer server;

  @BeforeEach
  void start() throws Exception {
    server = new FhirServer();
    server.recordStay();
    server.record(
        FhirServer.event(
            "e5", "patient-transferred", "2026-03-02T10:00:00+01:00", "\"ward\":\"B\""),
        FhirServer.event(
            "e6", "catheter-removed", "2026-03-03T10:00:00+01:00", "\"catheterId\":\"c1\""),
        FhirServer.event(
            "e7",
            "catheter-inserted",
            "2026-03-05T10:00:00+01:00",
            "\"catheterId\":\"c2\",\"route\":\"urethral\",\"sizeCh\":14,"
                + "\"indication\":\"acute-retention\""));
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
  }

  @Test
  void each_day_says_why_it_has_its_number_is_eligible_and_is_attributed_there() throws Exception {
    JsonNode patient = json("/Patient?identifier=urn:test:mrn%7Cp1").path("entry").path(0);
    String id = patient.path("resource").path("id").asText();
    List<String> lines = new ArrayList<>();
    for (JsonNode part :
        json("/Patient/" + id + "/$catheter-days?asOf=2026-03-05T12:00:00%2B01:00")
            .path("parameter")) {
      if (part.path("name").asText().equals("day")) {
        part.path("extension").forEach(trace -> lines.add(line(trace)));
      }
    }

    assertThat(String.join("\n", lines))
        .isEqualTo(
            """
            ELI-1 Day 1: the first inpatient date of the stay with a catheter that counts. [ward:e2, ward:e1]
            ELI-1 Not eligible: day 1 comes before day 3. [ward:e2]
            ATT-1 Ward A-1: the first inpatient ward of this first inpatient date. [ward:e1]
            ELI-2 Day 2: the count goes on from the date before. [ward:e2]
            ELI-1 Not eligible: day 2 comes before day 3. [ward:e2]
            ATT-1 Ward A-1: the first inpatient ward of the date before. [ward:e1]
            ELI-2 Day 3: the count goes on from the date before. [ward:e2, ward:e6]
            ELI-1 Eligible: day 3 is day 3 or later. [ward:e2, ward:e6]
            ATT-1 Ward A-1: the first inpatient ward of the date before. [ward:e1]
            ELI-1 No day of the count: no catheter that counts was in place on this date. []
            ELI-3 Eligible: the date before was day 3, its last. [ward:e2, ward:e6]
            ATT-1 Ward B: the first inpatient ward of the date before. [ward:e5]
            ELI-2 Day 1: a full date without a catheter lies before, so it starts anew. [ward:e7]
            ELI-1 Not eligible: day 1 comes before day 3. [ward:e7]
            ATT-1 Ward B: the first inpatient ward of the date before. [ward:e5]""");
  }

  @Test
  void a_count_names_its_rule_and_when_asked_the_events_that_made_somebody_count()
      throws Exception {
    String days = "/Location/A-1/$device-days?start=2026-03-01&end=2026-03-09";

    assertThat(traces(json(days))).containsExactly(COUNTED + "[]");
    assertThat(traces(json(days + "&why=true"))).containsExactly(COUNTED + "[ward:e1, ward:e2]");
    assertThat(server.get(days + "&why=maybe").statusCode()).isEqualTo(400);
  }

  @Test
  void a_flag_names_its_rule_its_source_and_its_events() throws Exception {
    assertThat(traces(json("/$overdue?asOf=2026-03-02T09:00:00%2B01:00")))
        .anySatisfy(
            trace -> assertThat(trace).startsWith("FLAG-OUTPUT-CHARTING ").endsWith("[ward:e2]"));
  }

  @Test
  void every_source_is_that_of_the_rule() throws Exception {
    JsonNode report = json("/$device-days?start=2026-03-01&end=2026-03-02").path("entry").path(0);
    JsonNode trace = report.path("resource").path("extension").path(0);

    assertThat(part(trace, "source")).contains("CDC form 57.118");
  }

  private List<String> traces(JsonNode bundle) {
    List<String> lines = new ArrayList<>();
    for (JsonNode entry : bundle.path("entry")) {
      for (JsonNode extension : entry.path("resource").path("extension")) {
        if (extension.path("url").asText().equals(TRACE)) {
          lines.add(line(extension));
        }
      }
    }
    return lines;
  }

  private static String line(JsonNode trace) {
    List<String> events = new ArrayList<>();
    int facts = 0;
    for (JsonNode part : trace.path("extension")) {
      facts += part.path("url").asText().equals("fact") ? 1 : 0;
      if (part.path("url").asText().equals("event")) {
        events.add(part.path("valueIdentifier").path("value").asText());
      }
    }
    assertThat(events).as("one event a fact").hasSize(facts);
    return part(trace, "rule") + " " + part(trace, "finding") + " " + events;
  }

  private static String part(JsonNode trace, String name) {
    for (JsonNode part : trace.path("extension")) {
      if (part.path("url").asText().equals(name)) {
        return part.path("valueString").asText();
      }
    }
    return "";
  }

  private JsonNode json(String path) throws Exception {
    return JSON.readTree(server.get(path).body());
  }
}
