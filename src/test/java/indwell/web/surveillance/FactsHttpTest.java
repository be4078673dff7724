package indwell.web.surveillance;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.net.http.HttpResponse;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Facts over HTTP: what is sent comes back, versions count, and nothing is taken by halves. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class FactsHttpTest {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final String MARCH = "/surveillance/A-1/2026-03";
  private FactsServer server;

  @BeforeEach
  void start() throws Exception {
    server = new FactsServer();
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
  }

  @Test
  void facts_come_back_in_one_form_whatever_form_they_were_sent_in() throws Exception {
    server.send(
        "PUT",
        MARCH,
        "{\"predictedCauti\": 1.5040, \"baseline\": \"NHSN 2022\", \"confirmedCauti\": 2.0,"
            + " \"cautiDates\": [\"2026-03-09\", \"2026-03-02\"],"
            + " \"sampledDates\": [\"2026-03-04\"], \"manualPatientDays\": 3e1}");
    HttpResponse<String> got = server.send("GET", MARCH, "");

    assertThat(got.statusCode()).isEqualTo(200);
    assertThat(got.headers().firstValue("ETag")).contains("W/\"1\"");
    assertThat(got.body())
        .isEqualTo(
            "{\"ward\":\"A-1\",\"month\":\"2026-03\",\"manualPatientDays\":30,"
                + "\"sampledDates\":[\"2026-03-04\"],\"confirmedCauti\":2,"
                + "\"cautiDates\":[\"2026-03-02\",\"2026-03-09\"],\"predictedCauti\":1.504,"
                + "\"baseline\":\"NHSN 2022\"}");
  }

  @Test
  void what_was_got_can_be_put_back_and_changes_nothing() throws Exception {
    server.send(
        "PUT",
        MARCH,
        "{\"sampledWeekday\":\"friday\",\"sampledPatientDays\":80,"
            + "\"sampledCatheterDays\":20}");
    HttpResponse<String> again = server.send("PUT", MARCH, server.send("GET", MARCH, "").body());

    assertThat(again.statusCode()).isEqualTo(200);
    assertThat(again.headers().firstValue("ETag")).contains("W/\"1\"");
    assertThat(again.body())
        .isEqualTo(
            "{\"ward\":\"A-1\",\"month\":\"2026-03\",\"version\":1,\"outcome\":\"unchanged\","
                + "\"issues\":[]}");
  }

  @Test
  void versions_are_kept_newest_first() throws Exception {
    server.send("PUT", MARCH, "{\"confirmedCauti\":1}");
    server.send("PUT", MARCH, "{\"confirmedCauti\":2}");
    server.send("PUT", MARCH, "{}");

    assertThat(server.send("GET", MARCH + "/versions", "").body())
        .isEqualTo(
            "[{\"version\":3,\"recordedAt\":\"2026-03-10T12:00:00Z\",\"facts\":"
                + "{\"ward\":\"A-1\",\"month\":\"2026-03\"}},"
                + "{\"version\":2,\"recordedAt\":\"2026-03-10T12:00:00Z\",\"facts\":"
                + "{\"ward\":\"A-1\",\"month\":\"2026-03\",\"confirmedCauti\":2}},"
                + "{\"version\":1,\"recordedAt\":\"2026-03-10T12:00:00Z\",\"facts\":"
                + "{\"ward\":\"A-1\",\"month\":\"2026-03\",\"confirmedCauti\":1}}]");
  }

  @Test
  void a_table_and_an_array_say_the_same() throws Exception {
    String table =
        "month,ward,confirmed_cauti,cauti_dates,baseline,predicted_cauti\r\n"
            + "2026-02,B,2,2026-02-03 2026-02-28,\"one, \"\"two\"\"\",0.5\r\n"
            + "\r\n"
            + "2026-01,B,0,,,\r\n";
    String array =
        "[{\"ward\":\"B\",\"month\":\"2026-02\",\"confirmedCauti\":2,"
            + "\"cautiDates\":[\"2026-02-03\",\"2026-02-28\"],"
            + "\"baseline\":\"one, \\\"two\\\"\",\"predictedCauti\":0.50},"
            + "{\"ward\":\"B\",\"month\":\"2026-01\",\"confirmedCauti\":0}]";

    JsonNode first = JSON.readTree(server.send("POST", "/surveillance", table).body());
    JsonNode second = JSON.readTree(server.send("POST", "/surveillance", array).body());

    assertThat(first.findValuesAsText("outcome")).containsExactly("recorded", "recorded");
    assertThat(second.findValuesAsText("outcome")).containsExactly("unchanged", "unchanged");
    assertThat(second.findValuesAsText("month")).containsExactly("2026-02", "2026-01");
  }

  @Test
  void one_wrong_row_and_nothing_is_written() throws Exception {
    HttpResponse<String> refused =
        server.send(
            "POST",
            "/surveillance",
            "ward,month,manual_patient_days\nB,2026-01,300\nB,2026-02,many\nC,2026-13,1\n");

    assertThat(refused.statusCode()).isEqualTo(422);
    JsonNode issues = JSON.readTree(refused.body()).get("issues");
    assertThat(issues.findValuesAsText("expression"))
        .containsExactly("line 3, column 3", "line 4, column 2");
    assertThat(issues.at("/0/diagnostics").asText())
        .isEqualTo(
            "Field manual_patient_days is \"many\"; expected a whole number from 0 to 1000000.");
    assertThat(server.send("GET", "/surveillance/B/2026-01", "").statusCode()).isEqualTo(404);
  }

  @Test
  void a_version_that_the_caller_has_not_seen_is_not_overwritten() throws Exception {
    server.send("PUT", MARCH, "{\"confirmedCauti\":1}");

    HttpResponse<String> stale =
        server.send("PUT", MARCH, "{\"confirmedCauti\":2}", Optional.of("W/\"7\""));
    assertThat(stale.statusCode()).isEqualTo(412);
    assertThat(stale.body()).contains("IND-0233", "expected W/\\\"1\\\".");
    int count = 2;
    for (String seen : new String[] {"W/\"1\"", "\"2\"", "W/\"9\", W/\"3\"", "*"}) {
      String body = "{\"confirmedCauti\":" + count++ + "}";
      assertThat(server.send("PUT", MARCH, body, Optional.of(seen)).statusCode())
          .as(seen)
          .isEqualTo(200);
    }
  }

  @Test
  void head_tells_the_version_without_the_facts() throws Exception {
    server.send("PUT", MARCH, "{\"confirmedCauti\":1}");
    HttpResponse<String> head = server.send("HEAD", MARCH, "");
    assertThat(head.statusCode()).isEqualTo(200);
    assertThat(head.headers().firstValue("ETag")).contains("W/\"1\"");
    assertThat(head.body()).isEmpty();
  }
}
