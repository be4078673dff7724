package indwell.web.fhir;

import indwell.web.access.TestIssuer;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;

/** The FHIR interface of a house that asks for tokens, with the stay of one patient. */
final class GuardedFhir implements AutoCloseable {
  private final TestIssuer issuer = new TestIssuer();
  private final FhirServer server = new FhirServer(issuer.mode());

  /** By client and scopes; signing takes longer than asking. */
  private final Map<String, String> tokens = new ConcurrentHashMap<>();

  GuardedFhir() throws Exception {
    server.recordStay();
  }

  FhirServer server() {
    return server;
  }

  /** What a client with these scopes sends as {@code Authorization}. */
  String bearer(String client, String scopes) {
    return tokens.computeIfAbsent(
        client + " " + scopes, one -> "Bearer " + issuer.token(client, scopes, FhirServer.NOW));
  }

  @Override
  public void close() throws Exception {
    server.close();
    issuer.close();
  }
}
