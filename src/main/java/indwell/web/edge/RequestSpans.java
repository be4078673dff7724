package indwell.web.edge;

import indwell.port.trace.NoSpan;
import indwell.port.trace.Span;
import indwell.port.trace.TraceParent;
import indwell.port.trace.Tracing;
import indwell.web.edge.Traffic.Part;
import java.util.EnumSet;
import java.util.Optional;
import java.util.Set;

/**
 * The span of each request, by OpenTelemetry's conventions for HTTP servers (stable since 1.23.0).
 * Left out is what a caller writes: the path and the query, its address and what it calls itself.
 */
final class RequestSpans {
  /** Asked for every few seconds, about nobody. */
  private static final Set<Part> UNTRACED = EnumSet.of(Part.HEALTH, Part.METRICS);

  private static final int SERVER_ERROR = 500;

  private final Tracing tracing;

  RequestSpans(Tracing tracing) {
    this.tracing = tracing;
  }

  Span begin(String path, Optional<TraceParent> parent, String state) {
    return UNTRACED.contains(Part.of(path)) ? NoSpan.NONE : tracing.request(parent, state);
  }

  /** The request is over, answered or not. */
  void end(UnderWay request) {
    Span span = request.errand.span();
    if (span.equals(NoSpan.NONE)) {
      return;
    }
    span.name(request.method("HTTP") + request.notes.route().map(route -> " " + route).orElse(""));
    span.note("http.request.method", request.method("_OTHER"));
    span.note("url.scheme", request.secure ? "https" : "http");
    request.notes.route().ifPresent(route -> span.note("http.route", route));
    span.note("indwell.request.id", request.errand.request());
    request.notes.type().ifPresent(type -> span.note("indwell.fhir.type", type));
    request.notes.refusal().ifPresent(code -> span.note("indwell.issue.code", code.code()));
    if (request.status > 0) {
      span.note("http.response.status_code", request.status);
    } else {
      span.failed("no_answer");
    }
    if (request.status >= SERVER_ERROR) {
      span.failed(Integer.toString(request.status));
    }
    span.end();
  }
}
