package indwell.web.page;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.access.Caller;
import indwell.access.Role;
import indwell.access.Scopes;
import indwell.contract.Audits;
import indwell.domain.event.BusinessId;
import indwell.domain.event.EventKey;
import indwell.fhir.map.ResourceId;
import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Interaction;
import indwell.port.AuditEntry.Kind;
import indwell.port.AuditEntry.Outcome;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** What is looked at and entered on the pages leaves its rows. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PagesAuditTest {
  private static final String PATIENT =
      ResourceId.patient(new BusinessId(Bedside.SYSTEM, "P-1")).id();

  private PagesServer server;
  private String browser;

  @BeforeEach
  void open() throws Exception {
    server =
        new PagesServer(
            0,
            new LoggedInRecorder(),
            new Caller.Known(
                "https://issuer.test",
                "ward-pages",
                Optional.of("staff-4711"),
                Scopes.NONE,
                Set.of(Role.NURSE, Role.PREVENTIONIST)));
    server.record(
        Bedside.withCatheter("P-1", "A-1", PagesServer.NOW.minus(Duration.ofHours(30)))
            .toArray(String[]::new));
    browser =
        server.get("/").headers().firstValue("Set-Cookie").orElseThrow().replaceFirst(";.*", "");
  }

  @AfterEach
  void close() throws Exception {
    server.close();
  }

  /** The rows that a request leaves, each by the one who is logged in. */
  private List<AuditEntry> left(Asking asking) throws Exception {
    int before = Audits.all(server.store()).size();
    asking.ask();
    List<AuditEntry> all = Audits.all(server.store());
    List<AuditEntry> rows = all.subList(before, all.size());
    assertThat(rows)
        .isNotEmpty()
        .allSatisfy(
            row -> {
              assertThat(row.origin().agent().kind()).isEqualTo(Kind.KNOWN);
              assertThat(row.origin().agent().client()).isEqualTo("ward-pages");
              assertThat(row.origin().agent().user()).contains("staff-4711");
              assertThat(row.origin().agent().roles()).containsExactly("nurse", "preventionist");
              assertThat(row.origin().address()).isEqualTo("127.0.0.1");
              assertThat(row.at()).isEqualTo(PagesServer.NOW);
            });
    return rows;
  }

  private interface Asking {
    void ask() throws Exception;
  }

  private AuditEntry one(String path, int status) throws Exception {
    List<AuditEntry> rows =
        left(() -> assertThat(server.get(path, "Cookie", browser).statusCode()).isEqualTo(status));
    assertThat(rows).hasSize(1);
    AuditEntry row = rows.get(0);
    assertThat(row.interaction()).isEqualTo(Interaction.VIEW);
    assertThat(row.status()).isEqualTo(status);
    return row;
  }

  @Test
  void a_ward_page_is_about_the_ward() throws Exception {
    AuditEntry row = one("/wards/A-1", 200);

    assertThat(row.origin().place()).isEqualTo("GET /wards/{}");
    assertThat(row.entity()).contains("Location/A-1");
    assertThat(row.patient()).isEmpty();
    assertThat(row.outcome()).isEqualTo(Outcome.SUCCESS);
    assertThat(one("/", 200).entity()).isEmpty();
  }

  @Test
  void a_patient_page_is_about_the_patient() throws Exception {
    AuditEntry row = one("/patients/" + PATIENT, 200);

    assertThat(row.origin().place()).isEqualTo("GET /patients/{}");
    assertThat(row.patient()).contains(PATIENT);
    assertThat(row.entity()).isEmpty();
  }

  @Test
  void an_insertion_page_is_about_the_procedure_and_its_patient() throws Exception {
    String event = Integer.toHexString("P-1".hashCode()) + "-cath";
    String procedure = ResourceId.ofEvent("Procedure", new EventKey("t", event)).id();
    AuditEntry row = one("/insertions/" + procedure, 200);

    assertThat(row.entity()).contains("Procedure/" + procedure);
    assertThat(row.patient()).contains(PATIENT);
  }

  @Test
  void a_month_and_its_csv_are_about_the_ward() throws Exception {
    for (String path : List.of("/wards/A-1/report", "/wards/A-1/report.csv")) {
      AuditEntry row = one(path + "?month=2026-02", 200);

      assertThat(row.origin().place()).isEqualTo("GET " + path.replace("A-1", "{}"));
      assertThat(row.entity()).contains("Location/A-1");
      assertThat(row.query()).isEqualTo("month=2026-02");
      assertThat(row.patient()).isEmpty();
    }
  }

  @Test
  void what_is_not_there_or_not_understood_is_told_with_its_status() throws Exception {
    assertThat(one("/patients/nobody", 404).patient()).isEmpty();
    assertThat(one("/patients/nobody", 404).outcome()).isEqualTo(Outcome.MINOR_FAILURE);
    assertThat(one("/wards/A-1?whiskers=long", 400).query()).isEmpty();
  }

  /** The form that presses that button, as it stands on the page of the ward. */
  private List<String[]> form(Document page, String act) {
    List<String[]> fields = new ArrayList<>();
    Element form = page.selectFirst("button[value=" + act + "]").closest("form");
    for (Element field : form.select("input")) {
      if (!field.attr("type").equals("checkbox") || field.hasAttr("checked")) {
        fields.add(new String[] {field.attr("name"), field.attr("value")});
      }
    }
    for (Element select : form.select("select")) {
      fields.add(new String[] {select.attr("name"), select.selectFirst("option[selected]").val()});
    }
    fields.add(new String[] {"act", act});
    return fields;
  }

  private int send(String path, List<String[]> fields) throws Exception {
    return server
        .form(
            path,
            fields,
            "Origin",
            server.base(),
            "Sec-Fetch-Site",
            "same-origin",
            "Cookie",
            browser)
        .statusCode();
  }

  @Test
  void a_form_leaves_its_row_and_that_of_the_event_that_it_made() throws Exception {
    Document page = server.page("/wards/A-1", "Cookie", browser);
    List<String[]> fields = form(page, "still-needed");

    List<AuditEntry> rows =
        left(() -> assertThat(send("/wards/A-1/record", fields)).isEqualTo(303));

    assertThat(rows)
        .extracting(AuditEntry::interaction)
        .containsExactly(Interaction.CREATE, Interaction.OPERATION);
    AuditEntry event = rows.get(0);
    assertThat(event.patient()).contains(PATIENT);
    assertThat(event.entity().orElseThrow()).startsWith("Provenance/");
    assertThat(event.status()).isEqualTo(201);
    assertThat(rows.get(1).status()).isEqualTo(303);
    assertThat(rows.get(1).entity()).contains("Location/A-1");
    assertThat(rows).extracting(row -> row.origin().place()).containsOnly("POST /wards/{}/record");
    assertNothingOf(fields);
  }

  @Test
  void a_form_that_is_refused_leaves_its_row_alone() throws Exception {
    List<String[]> fields =
        List.of(new String[] {"act", "still-needed"}, new String[] {"x", "Qz7"});

    List<AuditEntry> rows =
        left(() -> assertThat(send("/wards/A-1/record", fields)).isBetween(400, 499));

    assertThat(rows).extracting(AuditEntry::outcome).containsExactly(Outcome.MINOR_FAILURE);
    assertThat(Audits.all(server.store()).toString()).doesNotContain("Qz7");
  }

  /** Neither a seal nor a cookie nor anything that was typed. */
  private void assertNothingOf(List<String[]> fields) {
    String rows = Audits.all(server.store()).toString();
    assertThat(rows).doesNotContain(browser.substring(browser.indexOf('=') + 1), "P-1");
    fields.stream()
        .map(field -> field[1])
        .filter(value -> value.length() > 8 && !value.equals(PATIENT))
        .forEach(value -> assertThat(rows).doesNotContain(value));
  }
}
