package indwell.web.fhir;

import indwell.domain.refusal.IssueCode;
import indwell.web.Exchange;
import indwell.web.access.Visit;
import indwell.web.fhir.FhirRequest.Headers;
import indwell.web.fhir.QueryText.Parameter;
import io.vertx.core.buffer.Buffer;
import io.vertx.core.http.HttpServerRequest;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * What a request says before its body: path, query and headers. What cannot be read is refused
 * ({@link FhirRefusal}) before anything of the body is.
 */
final class RequestHead {
  /** Parameters that every request may have. */
  static final Set<String> GENERAL = Set.of("_format", "_pretty");

  private final Clock clock;

  RequestHead(Clock clock) {
    this.clock = clock;
  }

  /** The segments below {@code /fhir}, decoded; those of a slash at the end left out. */
  static List<String> path(String raw) {
    List<String> segments = new ArrayList<>();
    String below = raw.substring("/fhir".length());
    for (String segment : below.split("/", -1)) {
      segments.add(QueryText.decode(segment, false).orElseThrow(() -> undecodable("path", raw)));
    }
    // What stands before the first slash is nothing; a slash at the end says nothing either.
    segments.remove(0);
    if (!segments.isEmpty() && segments.get(segments.size() - 1).isEmpty()) {
      segments.remove(segments.size() - 1);
    }
    return segments;
  }

  /**
   * The request without its body.
   *
   * @param method {@code GET} for HEAD as well
   */
  FhirRequest decode(
      Exchange exchange, String method, List<String> path, Interaction interaction, Visit visit) {
    String query = Optional.ofNullable(exchange.request().query()).orElse("");
    List<Parameter> all =
        QueryText.parameters(query).orElseThrow(() -> undecodable("query", query));
    Optional<String> format =
        all.stream().filter(one -> one.name().equals("_format")).map(Parameter::value).findFirst();
    return new FhirRequest(
        method,
        base(exchange.request()),
        path,
        all.stream().filter(one -> !GENERAL.contains(one.name())).toList(),
        new Headers(
            joined(exchange, "Prefer"),
            exchange.header("If-None-Match"),
            exchange.header("If-Modified-Since"),
            exchange.header("If-Match"),
            exchange.header("If-None-Exist")),
        Buffer.buffer(),
        Negotiation.choose(accept(exchange), format, interaction.produces()),
        clock.instant(),
        origin(exchange.request()) + exchange.request().uri(),
        visit);
  }

  private static Optional<String> accept(Exchange exchange) {
    return joined(exchange, "Accept");
  }

  /** A header that may stand more than once, which means the same as a list. */
  private static Optional<String> joined(Exchange exchange, String name) {
    List<String> values = exchange.request().headers().getAll(name);
    return values.isEmpty() ? Optional.empty() : Optional.of(String.join(",", values));
  }

  private static String base(HttpServerRequest request) {
    return origin(request) + "/fhir";
  }

  private static String origin(HttpServerRequest request) {
    String authority =
        request.authority() == null
            ? request.localAddress().toString()
            : request.authority().toString();
    return request.scheme() + "://" + authority;
  }

  /** Refuses a body that the interaction does not read; one without length needs no type. */
  static void checkMediaType(Exchange exchange, Interaction interaction, Optional<String> type) {
    Optional<String> given = exchange.header("Content-Type");
    boolean compressed =
        exchange
            .header("Content-Encoding")
            .filter(name -> !name.equalsIgnoreCase("identity"))
            .isPresent();
    boolean empty = exchange.declaredLength() == 0;
    boolean known =
        type.filter(
                one ->
                    interaction.consumes().contains(one)
                        || interaction.consumesLines().contains(one))
            .isPresent();
    if (compressed || !(empty || known)) {
      throw FhirRefusal.of(
          415,
          IssueCode.MEDIA_TYPE,
          "",
          (compressed
                  ? "A compressed body is not read"
                  : given
                      .map(name -> "Media type " + Shown.text(name) + " is not read")
                      .orElse("No media type is given"))
              + "; expected "
              + interaction.consumes().get(0)
              + " without Content-Encoding.");
    }
  }

  private static FhirRefusal undecodable(String what, String given) {
    return FhirRefusal.of(
        400,
        IssueCode.MALFORMED_TEXT,
        "",
        "The "
            + what
            + " "
            + Shown.text(given)
            + " cannot be decoded; expected percent-encoded UTF-8.");
  }
}
