package indwell.web.fhir;

import static indwell.web.fhir.AuditedServer.ALL;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.contract.Audits;
import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Interaction;
import indwell.port.AuditEntry.Outcome;
import java.net.http.HttpResponse;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** What is written has its rows in the same transaction, each entry of a Bundle its own. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class AuditedWritesTest {
  private AuditedServer server;

  @BeforeEach
  void start() throws Exception {
    server = new AuditedServer();
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
  }

  private static final String WEIGHT =
      """
      {"resourceType":"Observation","status":"final",
       "meta":{"profile":["https://indwell.example/fhir/StructureDefinition/catheter-body-weight"]},
       "identifier":[{"system":"https://indwell.example/fhir/event","value":"ehr:w1"}],
       "code":{"coding":[{"system":"http://loinc.org","code":"29463-7"}]},
       "subject":{"reference":"Patient/%s"},"effectiveDateTime":"2026-03-03T08:00:00+01:00",
       "valueQuantity":{"value":71,"unit":"kg","system":"http://unitsofmeasure.org","code":"kg"}}""";

  @Test
  void what_is_written_has_its_row_in_the_same_transaction() throws Exception {
    String patient = server.id("Patient");
    HttpResponse<String> created =
        server.ask("POST", "/Observation", WEIGHT.formatted(patient), ALL);
    assertThat(created.statusCode()).as(created.body()).isEqualTo(201);
    List<AuditEntry> rows = Audits.all(server.store);
    AuditEntry row = rows.get(rows.size() - 1);
    String reference = "Observation/" + Answers.read(created.body()).get("id").asText();

    assertThat(row.interaction()).isEqualTo(Interaction.CREATE);
    assertThat(row.entity()).contains(reference);
    assertThat(row.patient()).contains(patient);
    assertThat(row.status()).isEqualTo(201);
    assertThat(row.origin().place()).isEqualTo("POST /fhir/Observation");

    List<AuditEntry> deleted = server.left("DELETE", "/" + reference, "", ALL);
    assertThat(deleted).hasSize(1);
    assertThat(deleted.get(0).interaction()).isEqualTo(Interaction.DELETE);
    assertThat(deleted.get(0).entity()).contains(reference);
    assertThat(deleted.get(0).patient()).contains(patient);

    List<AuditEntry> refused =
        server.left("POST", "/Observation", "{\"resourceType\":\"Patient\"}", ALL);
    assertThat(refused).hasSize(1);
    assertThat(refused.get(0).interaction()).isEqualTo(Interaction.CREATE);
    assertThat(refused.get(0).outcome()).isEqualTo(Outcome.MINOR_FAILURE);
  }

  private static String entry(String method, String url, String resource) {
    return "{\"request\":{\"method\":\"%s\",\"url\":\"%s\"}%s}"
        .formatted(method, url, resource.isEmpty() ? "" : ",\"resource\":" + resource);
  }

  private static String bundle(String type, String... entries) {
    return "{\"resourceType\":\"Bundle\",\"type\":\"%s\",\"entry\":[%s]}"
        .formatted(type, String.join(",", entries));
  }

  @Test
  void each_entry_of_a_transaction_leaves_a_row() throws Exception {
    String patient = server.id("Patient");

    List<AuditEntry> rows =
        server.left(
            "POST",
            "",
            bundle(
                "transaction",
                entry("POST", "Observation", WEIGHT.formatted(patient)),
                entry("GET", "Patient/" + patient, "")),
            ALL);

    assertThat(rows)
        .extracting(AuditEntry::interaction)
        .containsExactly(Interaction.CREATE, Interaction.READ);
    assertThat(rows).extracting(AuditEntry::patient).containsOnly(Optional.of(patient));
    assertThat(rows.get(0).origin().place()).isEqualTo("POST /fhir");
    assertThat(rows.get(1).origin().place()).isEqualTo("GET /fhir/Patient/{}");
  }

  @Test
  void a_transaction_that_is_not_done_leaves_one_row() throws Exception {
    List<AuditEntry> rows =
        server.left(
            "POST",
            "",
            bundle(
                "transaction",
                entry("POST", "Observation", WEIGHT.formatted(server.id("Patient"))),
                entry("GET", "Patient/nobody", "")),
            ALL);

    assertThat(rows).hasSize(1);
    assertThat(rows.get(0).interaction()).isEqualTo(Interaction.TRANSACTION);
    assertThat(rows.get(0).status()).isEqualTo(404);
  }

  @Test
  void each_entry_of_a_batch_leaves_a_row_the_refused_ones_too() throws Exception {
    List<AuditEntry> rows =
        server.left(
            "POST",
            "",
            bundle(
                "batch",
                entry("GET", "Procedure?_count=2", ""),
                entry("GET", "Device", ""),
                entry("POST", "Observation", WEIGHT.formatted(server.id("Patient"))),
                entry("POST", "Observation", "{\"resourceType\":\"Observation\"}")),
            "system/Procedure.rs system/Observation.c system/Patient.rs");

    assertThat(rows)
        .extracting(AuditEntry::interaction)
        .containsExactly(
            Interaction.CREATE,
            Interaction.SEARCH_TYPE,
            Interaction.SEARCH_TYPE,
            Interaction.CREATE);
    // What was written has its row by then, those of all others come with the answer.
    assertThat(rows.get(0).status()).isEqualTo(201);
    assertThat(rows.get(1).query()).isEqualTo("_count=2");
    assertThat(rows.get(2).reason()).contains("IND-0403");
    assertThat(rows.get(3).outcome()).isEqualTo(Outcome.MINOR_FAILURE);
  }

  @Test
  void a_ward_that_is_described_has_its_row() throws Exception {
    String ward = server.ask("GET", "/Location/A-1", "", ALL).body();

    List<AuditEntry> rows = server.left("PUT", "/Location/A-1", ward, ALL);

    assertThat(rows).hasSize(1);
    assertThat(rows.get(0).interaction()).isEqualTo(Interaction.UPDATE);
    assertThat(rows.get(0).entity()).contains("Location/A-1");
  }
}
