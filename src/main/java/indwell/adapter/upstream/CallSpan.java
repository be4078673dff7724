package indwell.adapter.upstream;

import indwell.port.trace.Errand;
import indwell.port.trace.NoSpan;
import indwell.port.trace.Span;
import java.net.URI;
import java.util.Map;

/**
 * The span of one request to another server, by OpenTelemetry's conventions for HTTP clients
 * (stable since 1.23.0). Left out is the address beyond the server's: it names resources.
 */
final class CallSpan {
  private static final int CLIENT_ERROR = 400;

  private final URI server;
  private final String template;
  private Span span = NoSpan.NONE;

  /**
   * Begins nothing yet.
   *
   * @param template the path below the server's, ids left out, such as {@code /Patient/{id}}
   */
  CallSpan(URI server, String template) {
    this.server = server;
    this.template = template;
  }

  /** The request is about to be sent; gives the headers to send with it. */
  Map<String, String> begin(String method) {
    span = Errand.current().span().call(method + " " + template);
    span.note("http.request.method", method);
    span.note("url.template", template);
    span.note("server.address", server.getHost());
    span.note("server.port", port());
    return span.headers();
  }

  private int port() {
    int standard = "https".equalsIgnoreCase(server.getScheme()) ? 443 : 80;
    return server.getPort() < 0 ? standard : server.getPort();
  }

  /**
   * It is over.
   *
   * @param status of the answer; 0 for none
   */
  void end(int status) {
    if (status > 0) {
      span.note("http.response.status_code", status);
    }
    if (status == 0) {
      span.failed("no_answer");
    } else if (status >= CLIENT_ERROR) {
      span.failed(Integer.toString(status));
    }
    span.end();
  }
}
