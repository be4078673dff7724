package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.Audits;
import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Interaction;
import indwell.port.AuditEntry.Kind;
import indwell.port.AuditEntry.Outcome;
import indwell.usecase.audit.AuditTrail;
import indwell.web.access.TestIssuer;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Every access under {@code /fhir} and every refusal leaves a row, and can be asked for. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class AuditTest {
  private static final String ALL = "system/*.cruds system/AuditEvent.rs";
  private static final String FHIR = "application/fhir+json";

  /** Of patient p1 of the stay. */
  private static final String PATIENT = "patient of the stay";

  private final MemoryStore store = new MemoryStore();
  private final TestIssuer issuer = new TestIssuer();
  private FhirServer server;

  @BeforeEach
  void start() throws Exception {
    server = new FhirServer(issuer.mode(), store, Audits.into(store));
    server.recordStay();
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
    issuer.close();
  }

  private HttpResponse<String> ask(String method, String path, String body, String... scopes)
      throws Exception {
    List<String> headers = new ArrayList<>(List.of("Content-Type", FHIR));
    if (scopes.length > 0) {
      headers.addAll(List.of("Authorization", "Bearer " + token(scopes[0])));
    }
    return server.ask(method, path, body, headers.toArray(new String[0]));
  }

  private String token(String scopes) {
    return issuer.token("ehr", scopes, FhirServer.NOW);
  }

  /** The rows that a request left. */
  private List<AuditEntry> left(String method, String path, String body, String... scopes)
      throws Exception {
    int before = Audits.all(store).size();
    ask(method, path, body, scopes);
    List<AuditEntry> rows = Audits.all(store);
    return rows.subList(before, rows.size());
  }

  private String id(String type) throws Exception {
    JsonNode found = Answers.read(ask("GET", "/" + type + "?_count=1", "", ALL).body());
    return found.at("/entry/0/resource/id").asText();
  }

  /** Method, address, interaction, route, what it is about, status; PATIENT and ids are put in. */
  static Stream<List<String>> accesses() {
    return Stream.of(
        List.of(
            "GET",
            "/Procedure/{Procedure}",
            "READ",
            "/Procedure/{}",
            "Procedure/{Procedure}",
            "200"),
        List.of(
            "HEAD",
            "/Procedure/{Procedure}",
            "READ",
            "/Procedure/{}",
            "Procedure/{Procedure}",
            "200"),
        List.of(
            "GET",
            "/Procedure/{Procedure}/_history/1",
            "VREAD",
            "/Procedure/{}/_history/{}",
            "Procedure/{Procedure}",
            "200"),
        List.of(
            "GET",
            "/Procedure/{Procedure}/_history",
            "HISTORY_INSTANCE",
            "/Procedure/{}/_history",
            "Procedure/{Procedure}",
            "200"),
        List.of("GET", "/Procedure/_history", "HISTORY_TYPE", "/Procedure/_history", "", "200"),
        List.of("GET", "/_history", "HISTORY_SYSTEM", "/_history", "", "200"),
        List.of("GET", "/Procedure", "SEARCH_TYPE", "/Procedure", "", "200"),
        List.of("GET", "/Procedure?patient={Patient}", "SEARCH_TYPE", "/Procedure", PATIENT, "200"),
        List.of("GET", "/Patient/{Patient}", "READ", "/Patient/{}", PATIENT, "200"),
        List.of(
            "GET",
            "/Patient/{Patient}/$catheter-days",
            "OPERATION",
            "/Patient/{}/$catheter-days",
            PATIENT,
            "200"),
        List.of("GET", "/$overdue", "OPERATION", "/$overdue", "", "200"),
        List.of(
            "GET",
            "/$device-days?start=2026-03-01&end=2026-03-02",
            "OPERATION",
            "/$device-days",
            "",
            "200"),
        List.of(
            "GET",
            "/Location/A-1/$device-days?start=2026-03-01&end=2026-03-02",
            "OPERATION",
            "/Location/{}/$device-days",
            "Location/A-1",
            "200"),
        List.of(
            "GET",
            "/Device/{Device}/$validate",
            "OPERATION",
            "/Device/{}/$validate",
            "Device/{Device}",
            "200"),
        List.of("GET", "/$export", "OPERATION", "/$export", "", "202"),
        List.of("GET", "/%24export/nobody", "OPERATION", "/$export/{}", "", "404"),
        List.of("GET", "/$export/nobody/Patient.ndjson", "OPERATION", "/$export/{}/{}", "", "404"),
        List.of("GET", "/Location/Z-9", "READ", "/Location/{}", "", "404"),
        List.of("GET", "/Anything/else", "READ", "/{}/{}", "", "404"),
        List.of("DELETE", "/Patient/x", "DELETE", "/Patient/{}", "", "405"),
        List.of("GET", "/Procedure?whiskers=long", "SEARCH_TYPE", "/Procedure", "", "400"),
        List.of("GET", "/AuditEvent", "SEARCH_TYPE", "/AuditEvent", "", "200"));
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("accesses")
  void an_access_leaves_a_row_that_names_what_it_was_about(List<String> row) throws Exception {
    String patient = id("Patient");
    String address = row.get(1).replace("{Patient}", patient);
    String entity = row.get(4);
    for (String type : List.of("Procedure", "Device")) {
      String id = address.contains("{" + type + "}") ? id(type) : "";
      address = address.replace("{" + type + "}", id);
      entity = entity.replace("{" + type + "}", id);
    }

    List<AuditEntry> left = left(row.get(0), address, "", ALL);

    assertThat(left).hasSize(1);
    AuditEntry one = left.get(0);
    assertThat(one.interaction()).isEqualTo(Interaction.valueOf(row.get(2)));
    assertThat(one.origin().place()).isEqualTo(row.get(0) + " /fhir" + row.get(3));
    assertThat(one.origin().address()).isEqualTo("127.0.0.1");
    assertThat(one.origin().agent().kind()).isEqualTo(Kind.KNOWN);
    assertThat(one.origin().agent().client()).isEqualTo("ehr");
    assertThat(one.at()).isEqualTo(FhirServer.NOW);
    assertThat(one.status()).isEqualTo(Integer.parseInt(row.get(5)));
    assertThat(one.reason()).isEmpty();
    assertThat(one.patient())
        .isEqualTo(entity.equals(PATIENT) ? Optional.of(patient) : Optional.empty());
    assertThat(one.entity().orElse("")).isEqualTo(entity.equals(PATIENT) ? "" : entity);
  }

  @Test
  void what_tells_nothing_of_anybody_leaves_none() throws Exception {
    assertThat(left("GET", "/metadata", "")).isEmpty();
    assertThat(left("GET", "/.well-known/smart-configuration", "")).isEmpty();
  }

  @Test
  void a_refusal_leaves_a_row_with_its_reason() throws Exception {
    AuditEntry nobody = left("GET", "/Procedure", "").get(0);
    assertThat(nobody.status()).isEqualTo(401);
    assertThat(nobody.reason()).contains("IND-0401");
    assertThat(nobody.outcome()).isEqualTo(Outcome.MINOR_FAILURE);
    assertThat(nobody.origin().agent().kind()).isEqualTo(Kind.NOBODY);

    AuditEntry lacking = left("GET", "/Procedure", "", "system/Patient.rs").get(0);
    assertThat(lacking.status()).isEqualTo(403);
    assertThat(lacking.reason()).contains("IND-0403");
    assertThat(lacking.origin().agent().client()).isEqualTo("ehr");

    AuditEntry followed =
        left("GET", "/Procedure?_include=Procedure:subject", "", "system/Procedure.rs").get(0);
    assertThat(followed.reason()).contains("IND-0403");
    assertThat(left("GET", "/AuditEvent", "", "system/*.cruds").get(0).reason())
        .contains("IND-0403");
  }

  @Test
  void parameters_are_named_and_their_values_kept_where_they_name_nobody() throws Exception {
    assertThat(
            left(
                    "GET",
                    "/Procedure?identifier=urn:x%7CJane&date=ge2026-03-01&_count=5&status=completed",
                    "",
                    ALL)
                .get(0)
                .query())
        .isEqualTo("identifier&date=ge2026-03-01&_count=5&status");
    assertThat(left("GET", "/Procedure?Jane=1&patient.identifier=Jane", "", ALL).get(0).query())
        .isEqualTo("patient");
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
    String patient = id("Patient");
    HttpResponse<String> created = ask("POST", "/Observation", WEIGHT.formatted(patient), ALL);
    assertThat(created.statusCode()).as(created.body()).isEqualTo(201);
    List<AuditEntry> rows = Audits.all(store);
    AuditEntry row = rows.get(rows.size() - 1);
    String reference = "Observation/" + Answers.read(created.body()).get("id").asText();

    assertThat(row.interaction()).isEqualTo(Interaction.CREATE);
    assertThat(row.entity()).contains(reference);
    assertThat(row.patient()).contains(patient);
    assertThat(row.status()).isEqualTo(201);
    assertThat(row.origin().place()).isEqualTo("POST /fhir/Observation");

    List<AuditEntry> deleted = left("DELETE", "/" + reference, "", ALL);
    assertThat(deleted).hasSize(1);
    assertThat(deleted.get(0).interaction()).isEqualTo(Interaction.DELETE);
    assertThat(deleted.get(0).entity()).contains(reference);
    assertThat(deleted.get(0).patient()).contains(patient);

    List<AuditEntry> refused = left("POST", "/Observation", "{\"resourceType\":\"Patient\"}", ALL);
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
    String patient = id("Patient");

    List<AuditEntry> rows =
        left(
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
        left(
            "POST",
            "",
            bundle(
                "transaction",
                entry("POST", "Observation", WEIGHT.formatted(id("Patient"))),
                entry("GET", "Patient/nobody", "")),
            ALL);

    assertThat(rows).hasSize(1);
    assertThat(rows.get(0).interaction()).isEqualTo(Interaction.TRANSACTION);
    assertThat(rows.get(0).status()).isEqualTo(404);
  }

  @Test
  void each_entry_of_a_batch_leaves_a_row_the_refused_ones_too() throws Exception {
    List<AuditEntry> rows =
        left(
            "POST",
            "",
            bundle(
                "batch",
                entry("GET", "Procedure?_count=2", ""),
                entry("GET", "Device", ""),
                entry("POST", "Observation", WEIGHT.formatted(id("Patient"))),
                entry("POST", "Observation", "{\"resourceType\":\"Observation\"}")),
            "system/Procedure.rs system/Observation.c system/Patient.rs");

    assertThat(rows)
        .extracting(AuditEntry::interaction)
        .containsExactly(
            Interaction.SEARCH_TYPE,
            Interaction.SEARCH_TYPE,
            Interaction.CREATE,
            Interaction.CREATE);
    assertThat(rows.get(0).query()).isEqualTo("_count=2");
    assertThat(rows.get(1).reason()).contains("IND-0403");
    assertThat(rows.get(2).status()).isEqualTo(201);
    assertThat(rows.get(3).outcome()).isEqualTo(Outcome.MINOR_FAILURE);
  }

  @Test
  void a_ward_that_is_described_has_its_row() throws Exception {
    String ward = ask("GET", "/Location/A-1", "", ALL).body();

    List<AuditEntry> rows = left("PUT", "/Location/A-1", ward, ALL);

    assertThat(rows).hasSize(1);
    assertThat(rows.get(0).interaction()).isEqualTo(Interaction.UPDATE);
    assertThat(rows.get(0).entity()).contains("Location/A-1");
  }

  @Test
  void rows_are_found_and_read_as_audit_events_page_by_page() throws Exception {
    String patient = id("Patient");
    left("GET", "/Patient/" + patient, "", ALL);
    left("GET", "/Procedure", "", "system/Patient.rs");

    assertThat(found("action=R&patient=" + patient)).hasSize(1);
    assertThat(found("entity=Patient/" + patient + "&subtype=read")).hasSize(1);
    assertThat(found("outcome=4&altid=ehr")).hasSize(1);
    assertThat(found("altid=somebody")).isEmpty();
    assertThat(found("type=rest&date=2026-03-10&address=127.")).hasSizeGreaterThan(2);
    assertThat(found("date=lt2026-03-10")).isEmpty();
    assertThat(ask("GET", "/AuditEvent?patient:missing=true", "", ALL).body()).contains("IND-0240");

    JsonNode one = found("action=R&patient=" + patient).get(0);
    HttpResponse<String> read = ask("GET", "/AuditEvent/" + one.get("id").asText(), "", ALL);
    assertThat(Answers.read(read.body())).isEqualTo(one);
    assertThat(read.headers().firstValue("ETag")).isEmpty();
    assertThat(ask("GET", "/AuditEvent/a7", "", ALL).statusCode()).isEqualTo(404);
    assertThat(ask("GET", "/AuditEvent/a7/_history", "", ALL).body()).contains("never changed");

    List<String> ids = new ArrayList<>();
    String next = "/AuditEvent?_count=2&_sort=-date&subtype=create";
    while (!next.isEmpty()) {
      JsonNode page = Answers.read(ask("GET", next, "", ALL).body());
      Answers.resources(page, "match").forEach(event -> ids.add(event.get("id").asText()));
      next = new Answers(server).next(page).orElse("");
    }
    assertThat(ids).hasSize(4).doesNotHaveDuplicates();
    assertThat(
            Answers.read(ask("GET", "/AuditEvent?_summary=count", "", ALL).body())
                .get("total")
                .asInt())
        .isGreaterThan(8);
  }

  private List<JsonNode> found(String query) throws Exception {
    HttpResponse<String> answer = ask("GET", "/AuditEvent?" + query, "", ALL);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    return Answers.resources(Answers.read(answer.body()), "match");
  }

  @Test
  void an_export_and_a_history_of_everything_are_without_them() throws Exception {
    assertThat(ask("GET", "/$export?_type=AuditEvent", "", ALL).statusCode()).isEqualTo(400);
    assertThat(ask("GET", "/_history?_count=1000", "", ALL).body()).doesNotContain("AuditEvent");
  }

  @Test
  void while_the_trail_has_no_room_nobody_is_let_in() throws Exception {
    AuditTrail full =
        new AuditTrail() {
          @Override
          public boolean hasRoom() {
            return false;
          }

          @Override
          public void add(AuditEntry entry) {}
        };
    try (FhirServer closed = new FhirServer(issuer.mode(), store, full)) {
      HttpResponse<String> answer =
          closed.get("/Procedure", "Authorization", "Bearer " + token(ALL));
      assertThat(answer.statusCode()).isEqualTo(503);
      assertThat(answer.headers().firstValue("Retry-After")).contains("1");
      assertThat(answer.body()).contains("OperationOutcome", "IND-0440");
      assertThat(closed.get("/metadata").statusCode()).isEqualTo(200);
    }
  }

  /** Neither is a token, nor what somebody typed where something else belongs. */
  @Test
  void what_somebody_typed_is_in_no_row() throws Exception {
    String secret = "Qz7Canary";
    for (String path :
        List.of(
            "/Patient/" + secret,
            "/" + secret,
            "/Patient?identifier=" + secret,
            "/Patient?" + secret + "=1",
            "/Patient?patient=" + secret,
            "/Procedure?patient=Patient/" + secret,
            "/Procedure?date=" + secret,
            "/Location/" + secret + "/$device-days?ward=" + secret,
            "/$export/" + secret,
            "/Patient/%ff" + secret,
            "/Patient?x=%ff" + secret)) {
      ask("GET", path, secret, ALL);
      ask("POST", path, secret, ALL);
      ask(secret, path, secret, ALL);
      ask("GET", path, secret);
      server.ask("GET", path, "", "Authorization", "Bearer " + secret);
      server.ask("GET", path, "", "Authorization", "Basic " + secret);
    }
    server.ask(
        "POST",
        "/Patient/_search",
        "identifier=" + secret,
        "Content-Type",
        "application/x-www-form-urlencoded",
        "Authorization",
        "Bearer " + token(ALL));

    List<AuditEntry> rows = Audits.all(store);
    assertThat(rows).hasSizeGreaterThan(60);
    assertThat(rows.toString()).doesNotContain(secret).doesNotContain(token(ALL).substring(0, 20));
    assertThat(ask("GET", "/AuditEvent?_count=1000", "", ALL).body()).doesNotContain(secret);
  }
}
