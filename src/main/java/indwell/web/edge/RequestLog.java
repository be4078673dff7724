package indwell.web.edge;

import indwell.web.edge.Traffic.Part;
import java.util.Locale;
import java.util.concurrent.TimeUnit;
import org.jboss.logging.Logger;
import org.jboss.logging.MDC;

/** A line for each request that is over, with nothing of its address but the part it was for. */
final class RequestLog {
  private static final Logger LOG = Logger.getLogger("indwell.access");
  private static final String REQUEST = "requestId";
  private static final String TRACE = "traceId";

  private final boolean on;

  RequestLog(boolean on) {
    this.on = on;
  }

  void over(UnderWay request) {
    if (!on) {
      return;
    }
    MDC.put(REQUEST, request.id);
    MDC.put(TRACE, request.trace);
    LOG.info(line(request));
    MDC.remove(REQUEST);
    MDC.remove(TRACE);
  }

  private static String line(UnderWay request) {
    return request.method()
        + " "
        + Part.of(request.path).name().toLowerCase(Locale.ROOT)
        + " "
        + (request.status == 0 ? "no answer" : Integer.toString(request.status))
        + " in "
        + TimeUnit.NANOSECONDS.toMillis(System.nanoTime() - request.begunNanos)
        + " ms, request "
        + request.id
        + ", trace "
        + request.trace;
  }
}
