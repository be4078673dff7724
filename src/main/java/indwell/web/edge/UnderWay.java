package indwell.web.edge;

import indwell.port.trace.Errand;
import indwell.port.trace.Span;
import indwell.port.trace.TraceParent;
import indwell.web.HttpAnswer;
import indwell.web.RequestNotes;
import io.netty.buffer.Unpooled;
import io.netty.handler.codec.http.DefaultFullHttpResponse;
import io.netty.handler.codec.http.FullHttpResponse;
import io.netty.handler.codec.http.HttpMethod;
import io.netty.handler.codec.http.HttpRequest;
import io.netty.handler.codec.http.HttpResponseStatus;
import io.netty.handler.codec.http.HttpVersion;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.Future;
import org.jspecify.annotations.Nullable;

/** One request from its head to the last byte of its answer; on its event loop alone. */
final class UnderWay {
  private static final Set<String> METHODS =
      Set.of("GET", "HEAD", "POST", "PUT", "DELETE", "PATCH", "OPTIONS");

  final String path;
  final Errand errand;
  final RequestNotes notes;
  final long begunNanos = System.nanoTime();
  private final HttpMethod method;
  private boolean stream;
  boolean secure;
  boolean arrived;
  boolean begun;
  boolean answered;

  /** 0 as long as there is no answer. */
  int status;

  @Nullable Future<?> timer;

  UnderWay(HttpRequest head, RequestIds ids, RequestSpans spans) {
    String uri = head.uri();
    int query = uri.indexOf('?');
    path = query < 0 ? uri : uri.substring(0, query);
    method = head.method();
    errand = errand(head, ids, spans);
    notes = new RequestNotes(errand);
    lineByLine(head.headers().get("Content-Type"));
  }

  /** In the trace of the caller, or in a new one when there is none that can be read. */
  private Errand errand(HttpRequest head, RequestIds ids, RequestSpans spans) {
    Optional<TraceParent> parent = TraceParent.read(head.headers().getAll("traceparent"));
    Span span = spans.begin(path, parent, String.join(",", head.headers().getAll("tracestate")));
    String trace =
        span.trace().isEmpty()
            ? parent.map(TraceParent::trace).orElseGet(() -> ids.next() + ids.next())
            : span.trace();
    return new Errand(ids.next(), trace, span);
  }

  /** Lines have no end that could be waited for: the connection has to move, and that is all. */
  void lineByLine(@Nullable String contentType) {
    stream |= contentType != null && contentType.contains("ndjson");
  }

  /** A method that is none of the standard's is not repeated. */
  String method(String other) {
    return METHODS.contains(method.name()) ? method.name() : other;
  }

  boolean isStream() {
    return stream && !answered;
  }

  boolean isOver() {
    return arrived && answered;
  }

  /** Whether nothing can have been written by it. */
  boolean readsAlone() {
    return method.equals(HttpMethod.GET) || method.equals(HttpMethod.HEAD);
  }

  /** The answer to it, after which the connection is closed. */
  FullHttpResponse response(HttpAnswer answer) {
    byte[] body = method.equals(HttpMethod.HEAD) ? new byte[0] : answer.body().getBytes();
    FullHttpResponse response =
        new DefaultFullHttpResponse(
            HttpVersion.HTTP_1_1,
            HttpResponseStatus.valueOf(answer.status()),
            Unpooled.wrappedBuffer(body));
    answer.headers().forEach((name, value) -> response.headers().set(name, value));
    response
        .headers()
        .set(RequestIds.HEADER, errand.request())
        .set("X-Content-Type-Options", "nosniff")
        .set("Content-Length", body.length)
        .set("Connection", "close");
    return response;
  }
}
