package indwell.web.fhir;

import indwell.access.Caller;
import indwell.adapter.validation.HapiProfileValidator;
import indwell.fhir.map.FhirJson;
import indwell.web.HttpAnswer;
import indwell.web.access.Visit;
import indwell.web.fhir.Dispatcher.Found;
import indwell.web.fhir.Dispatcher.Missed;
import indwell.web.fhir.FhirRequest.Headers;
import io.vertx.core.buffer.Buffer;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Calls of the FHIR interface without a connection, over a store in memory and the validator that
 * the service has. Everything behind the wire is the service's own.
 */
public final class FhirCalls {
  /** A record that grows without end would make later calls slower than earlier ones. */
  private static final int CALLS_PER_RECORD = 2_000;

  private static final Headers NO_HEADERS =
      new Headers(
          Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());

  private final HapiProfileValidator validator = HapiProfileValidator.open(FhirJson.context(), 1);
  private FhirServer server;
  private int calls;

  public FhirCalls() {
    validator.warmUp();
    server = opened();
  }

  private FhirServer opened() {
    try {
      FhirServer fresh = new FhirServer(validator);
      fresh.recordStay();
      return fresh;
    } catch (Exception e) {
      throw new IllegalStateException(e);
    }
  }

  /** Sends a body; the path has no query. */
  public HttpAnswer send(String method, String path, byte[] body) {
    renew();
    List<String> segments = path.isEmpty() ? List.of() : List.of(path.split("/", -1));
    Dispatcher.Target target = new Dispatcher(server.interactions).find(method, segments);
    if (target instanceof Missed missed) {
      return missed.answer();
    }
    return Dispatcher.run(
        ((Found) target).interaction(), request(method, segments).withBody(Buffer.buffer(body)));
  }

  /** Reads an address below {@code /fhir}, with its query. */
  public HttpAnswer get(String url) {
    renew();
    return new EntryReads(server.interactions, request("GET", List.of()))
        .answer(
            new BundleEntry(
                0, Optional.empty(), Map.of("method", "GET", "url", url), Optional.empty()));
  }

  private FhirRequest request(String method, List<String> segments) {
    return new FhirRequest(
        method,
        server.base(),
        segments,
        List.of(),
        NO_HEADERS,
        Buffer.buffer(),
        Negotiation.FHIR_JSON,
        server.now(),
        Visit.by(Caller.DEVELOPMENT));
  }

  private void renew() {
    if (++calls % CALLS_PER_RECORD == 0) {
      try {
        server.close();
      } catch (Exception e) {
        throw new IllegalStateException(e);
      }
      server = opened();
    }
  }
}
