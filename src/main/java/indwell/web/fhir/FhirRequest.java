package indwell.web.fhir;

import indwell.access.Caller;
import indwell.web.access.Visit;
import indwell.web.fhir.QueryText.Parameter;
import io.vertx.core.buffer.Buffer;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * A request under {@code /fhir}, decoded.
 *
 * @param method {@code GET} for HEAD as well
 * @param base absolute URL of {@code /fhir} as the caller knows it
 * @param path the segments below {@code /fhir}
 * @param parameters of the query, in their order, {@code _format} and {@code _pretty} left out
 * @param headers those that interactions look at
 * @param body empty unless the method is POST or PUT
 * @param format media type of the answer
 * @param now the service's clock, read once
 * @param url absolute URL as it was asked
 * @param visit who asks, and what the audit trail is told of it
 */
record FhirRequest(
    String method,
    String base,
    List<String> path,
    List<Parameter> parameters,
    Headers headers,
    Buffer body,
    String format,
    Instant now,
    String url,
    Visit visit) {

  /** A request that did not come by itself. */
  FhirRequest(
      String method,
      String base,
      List<String> path,
      List<Parameter> parameters,
      Headers headers,
      Buffer body,
      String format,
      Instant now,
      Visit visit) {
    this(
        method,
        base,
        path,
        parameters,
        headers,
        body,
        format,
        now,
        base + "/" + String.join("/", path),
        visit);
  }

  /** A search that is part of another request. */
  static FhirRequest search(
      String base, String type, List<Parameter> parameters, Instant now, Caller caller) {
    Headers none =
        new Headers(
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty());
    return new FhirRequest(
        "GET",
        base,
        List.of(type),
        parameters,
        none,
        Buffer.buffer(),
        Negotiation.FHIR_JSON,
        now,
        Visit.by(caller));
  }

  /** Request headers that interactions look at. */
  record Headers(
      Optional<String> prefer,
      Optional<String> ifNoneMatch,
      Optional<String> ifModifiedSince,
      Optional<String> ifMatch,
      Optional<String> ifNoneExist) {}

  /** Who asks. */
  Caller caller() {
    return visit.caller();
  }

  /** The first segment: the resource type where there is one. */
  String type() {
    return path.get(0);
  }

  /** The second segment: the id where there is one. */
  String id() {
    return path.get(1);
  }

  /** Whether unknown parameters are to be passed over (FHIR R4, search.html#errors). */
  boolean lenient() {
    return headers
        .prefer()
        .map(prefer -> prefer.toLowerCase(Locale.ROOT).replace(" ", ""))
        .filter(prefer -> prefer.contains("handling=lenient"))
        .isPresent();
  }

  /** Whether the caller prefers that (RFC 7240). */
  boolean prefers(String token) {
    return headers
        .prefer()
        .map(prefer -> prefer.toLowerCase(Locale.ROOT).split("[,;]", -1))
        .filter(parts -> Arrays.stream(parts).map(String::trim).anyMatch(token::equals))
        .isPresent();
  }

  FhirRequest withBody(Buffer bytes) {
    return new FhirRequest(method, base, path, parameters, headers, bytes, format, now, url, visit);
  }
}
