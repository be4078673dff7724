package indwell.web.page;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import indwell.domain.event.EventKey;
import indwell.fhir.map.ResourceId;
import indwell.web.fhir.AnswersOverHttp;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The record of an insertion says what the FHIR resources say. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class InsertionPageTest {
  private static final String DETAILS =
      "\"catheterId\":\"c1\",\"route\":\"urethral\",\"sizeCh\":16,\"balloonLabelMl\":10,"
          + "\"balloonFilledMl\":7.5,\"material\":\"silicone\",\"lumens\":2,\"lotNumber\":\"L<7>\","
          + "\"maxDwellDays\":28,\"indication\":\"acute-retention\",\"urineReturnedMl\":640,"
          + "\"attempts\":2,\"specimenTaken\":true,\"steps\":{\"hand-hygiene\":\"done\","
          + "\"sterile-drape\":\"not-done\",\"patient-education\":\"not-applicable\"}";
  private PagesServer server;

  @BeforeEach
  void open() throws Exception {
    server = new PagesServer();
    server.record(
        Bedside.event("a", "p", "patient-admitted", "2026-03-02T07:00:00Z", "\"ward\":\"A-1\""),
        Bedside.event("i", "p", "catheter-inserted", "2026-03-02T08:00:00Z", DETAILS),
        Bedside.event(
            "s",
            "p",
            "specimen-collected",
            "2026-03-02T08:05:00Z",
            "\"catheterId\":\"c1\",\"purpose\":\"culture\""));
  }

  @AfterEach
  void close() throws Exception {
    server.close();
  }

  private static String path(String eventId) {
    return "/insertions/" + procedure(eventId);
  }

  private static String procedure(String eventId) {
    return ResourceId.ofEvent("Procedure", new EventKey("t", eventId)).id();
  }

  private static String named(Document page, String name) {
    return page.select("[data-name=" + name + "]").text();
  }

  @Test
  void the_record_says_who_when_what_and_how() throws Exception {
    Document page = server.page(path("i"));

    assertThat(
            List.of("occurredAt", "ward", "recorder", "indication", "attempts", "urineReturnedMl"))
        .extracting(name -> named(page, name))
        .containsExactly("2 Mar 2026 09:00", "A-1", "N-1", "Acute retention", "2", "640 mL");
    assertThat(List.of("route", "drainage", "sizeCh", "lumens", "lotNumber", "maxDwellDays", "udi"))
        .extracting(name -> named(page, name))
        .containsExactly("urethral", "a bag", "16 Ch", "2", "L<7>", "28 days", "not stated");
    assertThat(List.of("balloonLabelMl", "balloonFilledMl", "specimenTaken"))
        .extracting(name -> named(page, name))
        .containsExactly("10 mL", "7.5 mL", "yes");
    assertThat(page.text()).contains("Specimen, culture 2 Mar 2026 09:05");
  }

  /** The numbers as resources carry them, found by what they are called there. */
  @Test
  void every_number_stands_in_the_FHIR_resources() throws Exception {
    Document page = server.page(path("i"));
    try (AnswersOverHttp fhir =
        new AnswersOverHttp(server.store(), PagesServer.BERLIN, server.now())) {
      String procedure = fhir.get("/Procedure/" + procedure("i"), "application/fhir+json");
      JsonNode found =
          new ObjectMapper().readTree(fhir.get("/Observation?_count=50", "application/fhir+json"));

      for (String name : List.of("sizeCh", "lumens", "maxDwellDays", "attempts")) {
        String value = page.select("[data-name=" + name + "] data").attr("value");
        assertThat(value.isEmpty() ? named(page, name) : value)
            .as(name)
            .isEqualTo(inExtension(procedure, name));
      }
      List<String> volumes = new java.util.ArrayList<>();
      for (JsonNode entry : found.get("entry")) {
        volumes.add(entry.at("/resource/valueQuantity/value").asText());
      }
      assertThat(volumes)
          .contains(
              page.select("[data-name=balloonFilledMl] data").attr("value"),
              page.select("[data-name=urineReturnedMl] data").attr("value"));
    }
  }

  private static String inExtension(String procedure, String name) throws Exception {
    for (JsonNode extension : new ObjectMapper().readTree(procedure).findParents("url")) {
      if (extension.get("url").asText().equals(name)) {
        return extension.has("valueQuantity")
            ? extension.at("/valueQuantity/value").asText()
            : extension.properties().stream()
                .filter(field -> field.getKey().startsWith("value"))
                .findFirst()
                .orElseThrow()
                .getValue()
                .asText();
      }
    }
    throw new AssertionError("No " + name + " in " + procedure);
  }

  @Test
  void every_step_is_done_not_done_not_applicable_or_not_stated() throws Exception {
    Document page = server.page(path("i"));

    Map<String, String> results =
        page.select("[data-step]").stream()
            .collect(
                java.util.stream.Collectors.toMap(
                    step -> step.attr("data-step"), step -> step.attr("data-result")));
    assertThat(results).hasSize(14).containsEntry("hand-hygiene", "done");
    assertThat(results).containsEntry("sterile-drape", "not-done");
    assertThat(results).containsEntry("patient-education", "not-applicable");
    assertThat(results.values()).filteredOn("not-stated"::equals).hasSize(11);
    assertThat(page.select("[data-step=sterile-drape]").text()).endsWith("not done");
  }

  /** Applied on 2 March: the seventh day after it is 9 March. */
  @Test
  void the_securement_says_until_when_it_is_good() throws Exception {
    assertThat(named(server.page(path("i")), "securementGoodThrough")).isEqualTo("Mon 9 Mar 2026");
    server.record(
        Bedside.event(
            "sc", "p", "securement-changed", "2026-03-09T22:30:00Z", "\"catheterId\":\"c1\""));

    Document page = server.page(path("i"));

    assertThat(named(page, "securedAt")).isEqualTo("9 Mar 2026 23:30");
    assertThat(named(page, "securementGoodThrough")).isEqualTo("Mon 16 Mar 2026");
  }

  @Test
  void what_the_rules_say_of_it_says_why() throws Exception {
    Document page = server.page(path("i"));

    assertThat(page.select(".due b").eachText())
        .containsExactlyInAnyOrder(
            "Balloon fill differs from the label", "Insertion steps not done");
    assertThat(page.select(".due").text()).contains("FLAG-BALLOON", "FLAG-STEPS", "t:i");
  }

  @Test
  void the_catheter_that_an_exchange_put_in_has_a_record_too() throws Exception {
    server.record(
        Bedside.event(
            "x",
            "p",
            "catheter-exchanged",
            "2026-03-05T08:00:00Z",
            "\"catheterId\":\"c1\",\"replacement\":{\"catheterId\":\"c2\",\"route\":\"urethral\","
                + "\"sizeCh\":18,\"indication\":\"outlet-obstruction\"}"));

    assertThat(server.page(path("x")).select("h1").text())
        .isEqualTo("Exchange record p, catheter c2");
    assertThat(named(server.page(path("i")), "end")).isEqualTo("5 Mar 2026 09:00");
    assertThat(server.page(path("i")).select("[data-name=securementGoodThrough]")).isEmpty();
  }

  @Test
  void an_insertion_that_was_taken_back_says_so() throws Exception {
    server.record(
        Bedside.event("i", "p", "catheter-inserted", "2026-03-02T08:00:00Z", DETAILS)
            .replace("\"eventId\"", "\"version\":2,\"status\":\"entered-in-error\",\"eventId\""));

    HttpResponse<String> answer = server.get(path("i"));

    assertThat(answer.statusCode()).isEqualTo(410);
    assertThat(Jsoup.parse(answer.body()).select("[data-code]").text()).isEqualTo("IND-0365");
  }

  @ParameterizedTest
  @CsvSource({"nothing, 404, IND-0100", "review, 404, IND-0100"})
  void what_is_no_insertion_is_not_found(String what, int status, String code) throws Exception {
    server.advance(Duration.ofMinutes(1));
    server.record(
        Bedside.event(
            "k",
            "p",
            "care-checked",
            "2026-03-10T11:00:00Z",
            "\"catheterId\":\"c1\",\"items\":{\"closed-system\":true}"));
    HttpResponse<String> answer =
        server.get(what.equals("nothing") ? "/insertions/nothing" : path("k"));

    assertThat(answer.statusCode()).isEqualTo(status);
    assertThat(Jsoup.parse(answer.body()).select("[data-code]").text()).isEqualTo(code);
  }
}
