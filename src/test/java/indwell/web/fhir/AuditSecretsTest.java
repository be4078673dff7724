package indwell.web.fhir;

import static indwell.web.fhir.AuditedServer.ALL;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.contract.Audits;
import indwell.port.AuditEntry;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** No row holds what somebody typed. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class AuditSecretsTest {
  private AuditedServer server;

  @BeforeEach
  void start() throws Exception {
    server = new AuditedServer();
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
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
      server.ask("GET", path, secret, ALL);
      server.ask("POST", path, secret, ALL);
      server.ask(secret, path, secret, ALL);
      server.ask("GET", path, secret);
      server.http.ask("GET", path, "", "Authorization", "Bearer " + secret);
      server.http.ask("GET", path, "", "Authorization", "Basic " + secret);
    }
    server.http.ask(
        "POST",
        "/Patient/_search",
        "identifier=" + secret,
        "Content-Type",
        "application/x-www-form-urlencoded",
        "Authorization",
        "Bearer " + server.token(ALL));

    List<AuditEntry> rows = Audits.all(server.store);
    assertThat(rows).hasSizeGreaterThan(60);
    assertThat(rows.toString())
        .doesNotContain(secret)
        .doesNotContain(server.token(ALL).substring(0, 20));
    assertThat(server.ask("GET", "/AuditEvent?_count=1000", "", ALL).body()).doesNotContain(secret);
  }

  /** A number of a patient may be a short one. */
  @Test
  void a_number_is_kept_where_it_cannot_be_that_of_a_patient() throws Exception {
    for (String query :
        List.of("identifier=4711", "patient.identifier=4711", "_id=4711", "patient=4711")) {
      String name = query.substring(0, query.indexOf('=')).split("[.]", 2)[0];
      assertThat(server.left("GET", "/Procedure?" + query, "", ALL).get(0).query()).isEqualTo(name);
    }
    assertThat(server.left("GET", "/Procedure?_count=47&date=2026", "", ALL).get(0).query())
        .isEqualTo("_count=47&date=2026");
    assertThat(server.left("GET", "/Procedure?status:missing=true", "", ALL).get(0).query())
        .isEqualTo("status=true");
  }
}
