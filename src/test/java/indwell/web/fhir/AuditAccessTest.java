package indwell.web.fhir;

import static indwell.web.fhir.AuditedServer.ALL;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.port.AuditEntry;
import indwell.port.AuditEntry.Interaction;
import indwell.port.AuditEntry.Kind;
import indwell.port.AuditEntry.Outcome;
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

/** Every access under {@code /fhir} and every refusal leaves a row that names what it was about. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class AuditAccessTest {
  /** Of patient p1 of the stay. */
  private static final String PATIENT = "patient of the stay";

  /** What gives one resource, or its versions, is about the patient whose resource it is. */
  private static final List<String> READ_OF_A_PATIENT =
      List.of("READ", "VREAD", "HISTORY_INSTANCE");

  private AuditedServer server;

  @BeforeEach
  void start() throws Exception {
    server = new AuditedServer();
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
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
    String patient = server.id("Patient");
    String address = row.get(1).replace("{Patient}", patient);
    String entity = row.get(4);
    for (String type : List.of("Procedure", "Device")) {
      String id = address.contains("{" + type + "}") ? server.id(type) : "";
      address = address.replace("{" + type + "}", id);
      entity = entity.replace("{" + type + "}", id);
    }

    List<AuditEntry> left = server.left(row.get(0), address, "", ALL);

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
    boolean ofPatient = entity.equals(PATIENT) || READ_OF_A_PATIENT.contains(row.get(2));
    assertThat(one.patient())
        .isEqualTo(ofPatient && one.status() == 200 ? Optional.of(patient) : Optional.empty());
    assertThat(one.entity().orElse("")).isEqualTo(entity.equals(PATIENT) ? "" : entity);
  }

  @Test
  void what_tells_nothing_of_anybody_leaves_none() throws Exception {
    assertThat(server.left("GET", "/metadata", "")).isEmpty();
    assertThat(server.left("GET", "/.well-known/smart-configuration", "")).isEmpty();
  }

  @Test
  void a_refusal_leaves_a_row_with_its_reason() throws Exception {
    AuditEntry nobody = server.left("GET", "/Procedure", "").get(0);
    assertThat(nobody.status()).isEqualTo(401);
    assertThat(nobody.reason()).contains("IND-0401");
    assertThat(nobody.outcome()).isEqualTo(Outcome.MINOR_FAILURE);
    assertThat(nobody.origin().agent().kind()).isEqualTo(Kind.NOBODY);

    AuditEntry lacking = server.left("GET", "/Procedure", "", "system/Patient.rs").get(0);
    assertThat(lacking.status()).isEqualTo(403);
    assertThat(lacking.reason()).contains("IND-0403");
    assertThat(lacking.origin().agent().client()).isEqualTo("ehr");

    AuditEntry followed =
        server
            .left("GET", "/Procedure?_include=Procedure:subject", "", "system/Procedure.rs")
            .get(0);
    assertThat(followed.reason()).contains("IND-0403");
    assertThat(server.left("GET", "/AuditEvent", "", "system/*.cruds").get(0).reason())
        .contains("IND-0403");
  }

  @Test
  void parameters_are_named_and_their_values_kept_where_they_name_nobody() throws Exception {
    assertThat(
            server
                .left(
                    "GET",
                    "/Procedure?identifier=urn:x%7CJane&date=ge2026-03-01&_count=5&status=completed",
                    "",
                    ALL)
                .get(0)
                .query())
        .isEqualTo("identifier&date=ge2026-03-01&_count=5&status");
    assertThat(
            server.left("GET", "/Procedure?Jane=1&patient.identifier=Jane", "", ALL).get(0).query())
        .isEqualTo("patient");
  }
}
