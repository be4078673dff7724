package indwell.web.page;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.contract.PlainFacility;
import indwell.domain.event.BusinessId;
import indwell.domain.event.Ward;
import indwell.domain.rule.RuleSettings;
import indwell.domain.rule.UrineReading;
import indwell.fhir.map.ResourceId;
import indwell.usecase.Facility;
import indwell.usecase.Facility.WardSettings;
import java.util.Map;
import java.util.Optional;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * Urine output on the page of a patient stands against the limit of the reading that the ward has
 * chosen, as its flag does. The limits and their sources are those of {@code UrineLimitTest}.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PatientUrineTest {
  /** 1 kg; 0.4, 0.8 and 1.2 mL/kg/h. */
  private static final String[] HOURS = {"0.4", "0.8", "1.2"};

  @Test
  void stands_against_the_limit_of_the_facility() throws Exception {
    try (PagesServer server = new PagesServer()) {
      server.record(admitted("W"), weight());
      recordHours(server);
      Document page = page(server);

      assertThat(page.select("th:contains(Against)").text()).isEqualTo("Against 0.5");
      assertThat(sides(page)).isEqualTo("below, at or above, at or above");
      assertThat(page.select("tr.low")).hasSize(1);
      assertThat(page.select("figcaption .k.low").text()).isEqualTo("below 0.5 mL/kg/h");
      assertThat(page.select("figcaption").text()).contains("of them below 0.5 mL/kg/h: 1;");
      assertThat(page.select("svg .limit-word").eachText()).containsExactly("0.5");
      assertThat(page.select("svg .output.low")).hasSize(1);
    }
  }

  @Test
  void stands_against_that_of_the_newborn_where_the_ward_reads_it_so() throws Exception {
    try (PagesServer server = new PagesServer(withNewborn("N"))) {
      server.record(admitted("N"), weight());
      recordHours(server);
      Document page = page(server);

      assertThat(page.select("th:contains(Against)").text()).isEqualTo("Against 1");
      assertThat(sides(page)).isEqualTo("not above, not above, above");
      assertThat(page.select("tr.low")).hasSize(2);
      assertThat(page.select("figcaption .k.low").text()).isEqualTo("not above 1 mL/kg/h");
      assertThat(page.select("figcaption").text()).contains("of them not above 1 mL/kg/h: 2;");
      assertThat(page.select("svg .limit-word").eachText()).containsExactly("1");
      assertThat(page.select("svg .output.low")).hasSize(2);
    }
  }

  @Test
  void stands_against_the_limit_of_each_ward_that_the_patient_was_in() throws Exception {
    try (PagesServer server = new PagesServer(withNewborn("N"))) {
      server.record(admitted("N"), weight(), transferredAfterTwoHours("W"));
      recordHours(server);
      Document page = page(server);

      assertThat(page.select("th:contains(Against)").text()).isEqualTo("Against the limit");
      assertThat(sides(page)).isEqualTo("not above 1, at or above 0.5, at or above 0.5");
      assertThat(page.select("figcaption").text())
          .contains("of them low by the reading of the ward: 1;");
      assertThat(page.select("svg .limit-word").eachText()).containsExactly("1", "0.5");
    }
  }

  @Test
  void says_nothing_of_a_limit_where_nothing_was_measured() throws Exception {
    try (PagesServer server = new PagesServer()) {
      server.record(admitted("W"));
      Document page = page(server);

      assertThat(page.select("figcaption .k.low")).isEmpty();
      assertThat(page.select("figcaption").text()).contains("measured intervals: 0; flags");
    }
  }

  private static Facility withNewborn(String ward) {
    Facility plain = PlainFacility.in(PagesServer.BERLIN.calendar().zone());
    RuleSettings defaults = RuleSettings.DEFAULTS;
    RuleSettings newborn =
        new RuleSettings(
            defaults.reviewDueBy(),
            defaults.securementGoodDays(),
            defaults.outputChartingWithin(),
            defaults.careCheckWithin(),
            defaults.postoperativeWithin(),
            defaults.balloonToleranceMl(),
            UrineReading.NEONATAL);
    return new Facility(
        plain.calendar(),
        plain.countTime(),
        plain.rules(),
        Map.of(new Ward(ward), new WardSettings(Optional.empty(), newborn)));
  }

  private static String admitted(String ward) {
    return Bedside.event(
        "a", "P", "patient-admitted", "2026-03-10T08:00:00Z", "\"ward\":\"" + ward + "\"");
  }

  /** At the end of the second hour, which is then the new ward's. */
  private static String transferredAfterTwoHours(String ward) {
    return Bedside.event(
        "t", "P", "patient-transferred", "2026-03-10T10:00:00Z", "\"ward\":\"" + ward + "\"");
  }

  private static String weight() {
    return Bedside.event("w", "P", "weight-measured", "2026-03-10T08:00:00Z", "\"kg\":1");
  }

  private static void recordHours(PagesServer server) {
    for (int hour = 0; hour < HOURS.length; hour++) {
      server.record(
          Bedside.event(
              "u" + hour,
              "P",
              "urine-measured",
              "2026-03-10T%02d:00:00Z".formatted(9 + hour),
              "\"volumeMl\":%s,\"from\":\"2026-03-10T%02d:00:00Z\""
                  .formatted(HOURS[hour], 8 + hour)));
    }
  }

  private static Document page(PagesServer server) throws Exception {
    BusinessId patient = new BusinessId(Bedside.SYSTEM, "P");
    return server.page("/patients/" + ResourceId.patient(patient).id());
  }

  private static String sides(Document page) {
    return String.join(", ", page.select("tr:has([data-observation]) td:nth-child(6)").eachText());
  }
}
