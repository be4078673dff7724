package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * What arrives late, and corrections that move an event across midnight, month or ward, count as if
 * they had been there from the start. Counted at midnight in Berlin.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class LateAndCorrectedTest {
  private FhirServer server;

  @BeforeEach
  void start() throws Exception {
    server = new FhirServer();
    server.record(
        FhirServer.event("adm", "patient-admitted", "2026-02-26T08:00:00+01:00", "\"ward\":\"A\""),
        inserted(1, "2026-02-27T23:50:00+01:00"));
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
  }

  @Test
  void a_removal_that_arrives_weeks_after_lowers_the_month_that_was_reported() throws Exception {
    assertThat(monthOfCatheterDays("2026-02")).isEqualTo(1);
    assertThat(monthOfCatheterDays("2026-03")).isEqualTo(9);

    server.record(removed(1, "2026-03-02T00:00:00+01:00"));

    assertThat(monthOfCatheterDays("2026-02")).isEqualTo(1);
    assertThat(monthOfCatheterDays("2026-03")).isEqualTo(1);
  }

  @Test
  void a_correction_across_midnight_moves_the_first_day() throws Exception {
    server.record(inserted(2, "2026-02-28T00:00:01+01:00"));

    assertThat(csv()).contains("2026-02-28,A,1,0", "2026-03-01,A,1,1");
  }

  @Test
  void a_correction_to_exactly_midnight_counts_on_that_date() throws Exception {
    server.record(inserted(2, "2026-02-28T00:00:00+01:00"));

    assertThat(csv()).contains("2026-02-27,A,1,0", "2026-02-28,A,1,1");
  }

  @Test
  void a_correction_across_the_month_leaves_nothing_in_the_old_one() throws Exception {
    server.record(inserted(2, "2026-03-03T09:00:00+01:00"));

    assertThat(monthOfCatheterDays("2026-02")).isZero();
    assertThat(monthOfCatheterDays("2026-03")).isEqualTo(6);
  }

  @Test
  void a_correction_to_another_ward_takes_its_days_along() throws Exception {
    server.record(
        FhirServer.event("adm", "patient-admitted", "2026-02-26T08:00:00+01:00", "\"ward\":\"B\"")
            .replaceFirst("\\{", "{\"version\":2,"));

    assertThat(csv()).contains("2026-02-28,B,1,1").doesNotContain(",A,1,");
    assertThat(server.get("/Location/A/$device-days?start=2026-02-26&end=2026-02-27").statusCode())
        .as("no current event names ward A any more")
        .isEqualTo(404);
  }

  @Test
  void a_withdrawn_insertion_counts_nowhere_and_its_removal_is_a_remark() throws Exception {
    server.record(
        removed(1, "2026-03-02T10:00:00+01:00"),
        "{\"source\":\"ward\",\"eventId\":\"ins\",\"version\":2,\"status\":\"entered-in-error\","
            + inserted(1, "2026-02-27T23:50:00+01:00").replaceFirst(".*?(?=\"type\")", ""));

    assertThat(monthOfCatheterDays("2026-02") + monthOfCatheterDays("2026-03")).isZero();
    assertThat(server.get("/$device-days?start=2026-03-01&end=2026-03-09").body())
        .contains("IND-0201");
  }

  private static String inserted(int version, String at) {
    return FhirServer.event(
            "ins",
            "catheter-inserted",
            at,
            "\"catheterId\":\"c1\",\"route\":\"urethral\",\"sizeCh\":14,"
                + "\"indication\":\"acute-retention\"")
        .replaceFirst("\\{", "{\"version\":" + version + ",");
  }

  private static String removed(int version, String at) {
    return FhirServer.event("rem", "catheter-removed", at, "\"catheterId\":\"c1\"")
        .replaceFirst("\\{", "{\"version\":" + version + ",");
  }

  private String csv() throws Exception {
    return server.get("/$device-days?start=2026-02-25&end=2026-03-09", "Accept", "text/csv").body();
  }

  private int monthOfCatheterDays(String month) throws Exception {
    List<String> rows = csv().lines().filter(row -> row.startsWith(month)).toList();
    return rows.stream().mapToInt(row -> Integer.parseInt(row.split(",")[3])).sum();
  }
}
