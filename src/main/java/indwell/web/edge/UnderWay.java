package indwell.web.edge;

import io.netty.handler.codec.http.HttpMethod;
import io.netty.handler.codec.http.HttpRequest;
import java.util.Set;
import java.util.concurrent.Future;
import org.jspecify.annotations.Nullable;

/** One request from its head to the last byte of its answer; on its event loop alone. */
final class UnderWay {
  private static final Set<String> METHODS =
      Set.of("GET", "HEAD", "POST", "PUT", "DELETE", "PATCH", "OPTIONS");

  final String path;
  final String id;
  final String trace;
  final long begunNanos = System.nanoTime();
  private final HttpMethod method;
  private boolean stream;
  boolean arrived;
  boolean begun;
  boolean answered;

  /** 0 as long as there is no answer. */
  int status;

  @Nullable Future<?> timer;

  UnderWay(HttpRequest head, RequestIds ids) {
    id = ids.next();
    trace = ids.trace(head.headers().get("traceparent"));
    String uri = head.uri();
    int query = uri.indexOf('?');
    path = query < 0 ? uri : uri.substring(0, query);
    method = head.method();
    lineByLine(head.headers().get("Content-Type"));
  }

  /** Lines have no end that could be waited for: the connection has to move, and that is all. */
  void lineByLine(@Nullable String contentType) {
    stream |= contentType != null && contentType.contains("ndjson");
  }

  /** A method that is none of the standard's is not repeated. */
  String method() {
    return METHODS.contains(method.name()) ? method.name() : "OTHER";
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

  boolean wantsNoBody() {
    return method.equals(HttpMethod.HEAD);
  }
}
