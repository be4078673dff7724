package indwell.web.fhir;

import com.fasterxml.jackson.databind.JsonNode;
import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.Audits;
import indwell.port.AuditEntry;
import indwell.web.access.TestIssuer;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;

/**
 * A service that asks who its callers are and keeps a trail in memory; each call is one of "ehr".
 */
final class AuditedServer implements AutoCloseable {
  static final String ALL = "system/*.cruds system/AuditEvent.rs";
  private static final String FHIR = "application/fhir+json";

  final MemoryStore store = new MemoryStore();
  final TestIssuer issuer = new TestIssuer();
  final FhirServer http;

  /** With the stay of one patient, and rows that are there when the answer is. */
  AuditedServer() throws Exception {
    http = new FhirServer(issuer.mode(), store, Audits.into(store));
    http.recordStay();
  }

  HttpResponse<String> ask(String method, String path, String body, String... scopes)
      throws Exception {
    List<String> headers = new ArrayList<>(List.of("Content-Type", FHIR));
    if (scopes.length > 0) {
      headers.addAll(List.of("Authorization", "Bearer " + token(scopes[0])));
    }
    return http.ask(method, path, body, headers.toArray(new String[0]));
  }

  String token(String scopes) {
    return issuer.token("ehr", scopes, FhirServer.NOW);
  }

  /** The rows that a request left. */
  List<AuditEntry> left(String method, String path, String body, String... scopes)
      throws Exception {
    int before = Audits.all(store).size();
    ask(method, path, body, scopes);
    List<AuditEntry> rows = Audits.all(store);
    return rows.subList(before, rows.size());
  }

  /** The id of one of that type. */
  String id(String type) throws Exception {
    JsonNode found = Answers.read(ask("GET", "/" + type + "?_count=1", "", ALL).body());
    return found.at("/entry/0/resource/id").asText();
  }

  @Override
  public void close() throws Exception {
    http.close();
    issuer.close();
  }
}
