package indwell.web.fhir;

import static indwell.web.fhir.AuditedServer.ALL;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Rows are asked for as AuditEvents. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class AuditEventSearchTest {
  private AuditedServer server;

  @BeforeEach
  void start() throws Exception {
    server = new AuditedServer();
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
  }

  @Test
  void rows_are_found_and_read_as_audit_events_page_by_page() throws Exception {
    String patient = server.id("Patient");
    server.left("GET", "/Patient/" + patient, "", ALL);
    server.left("GET", "/Procedure", "", "system/Patient.rs");

    assertThat(found("action=R&patient=" + patient)).hasSize(1);
    assertThat(found("entity=Patient/" + patient + "&subtype=read")).hasSize(1);
    assertThat(found("outcome=4&altid=ehr")).hasSize(1);
    assertThat(found("altid=somebody")).isEmpty();
    assertThat(found("type=rest&date=2026-03-10&address=127.")).hasSizeGreaterThan(2);
    assertThat(found("date=lt2026-03-10")).isEmpty();
    assertThat(server.ask("GET", "/AuditEvent?patient:missing=true", "", ALL).body())
        .contains("IND-0240");

    JsonNode one = found("action=R&patient=" + patient).get(0);
    HttpResponse<String> read = server.ask("GET", "/AuditEvent/" + one.get("id").asText(), "", ALL);
    assertThat(Answers.read(read.body())).isEqualTo(one);
    assertThat(read.headers().firstValue("ETag")).isEmpty();
    assertThat(server.ask("GET", "/AuditEvent/a7", "", ALL).statusCode()).isEqualTo(404);
    assertThat(server.ask("GET", "/AuditEvent/unknown", "", ALL).body())
        .contains("expected one that a search of AuditEvent gives.");
    assertThat(server.ask("GET", "/AuditEvent/a7/_history", "", ALL).body())
        .contains("never changed");

    List<String> ids = new ArrayList<>();
    String next = "/AuditEvent?_count=2&_sort=-date&subtype=create";
    while (!next.isEmpty()) {
      JsonNode page = Answers.read(server.ask("GET", next, "", ALL).body());
      Answers.resources(page, "match").forEach(event -> ids.add(event.get("id").asText()));
      next = new Answers(server.http).next(page).orElse("");
    }
    assertThat(ids).hasSize(4).doesNotHaveDuplicates();
    assertThat(
            Answers.read(server.ask("GET", "/AuditEvent?_summary=count", "", ALL).body())
                .get("total")
                .asInt())
        .isGreaterThan(8);
  }

  private List<JsonNode> found(String query) throws Exception {
    HttpResponse<String> answer = server.ask("GET", "/AuditEvent?" + query, "", ALL);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    return Answers.resources(Answers.read(answer.body()), "match");
  }

  @Test
  void an_export_and_a_history_of_everything_are_without_them() throws Exception {
    assertThat(server.ask("GET", "/$export?_type=AuditEvent", "", ALL).statusCode()).isEqualTo(400);
    assertThat(server.ask("GET", "/_history?_count=1000", "", ALL).body())
        .doesNotContain("AuditEvent");
  }
}
