package indwell.web.edge;

import indwell.web.edge.Traffic.Part;
import java.util.Locale;
import java.util.concurrent.TimeUnit;
import org.jboss.logging.Logger;

/** A line for each request that is over, with nothing of its address but the part it was for. */
final class RequestLog {
  private static final Logger LOG = Logger.getLogger("indwell.access");

  private final boolean on;

  RequestLog(boolean on) {
    this.on = on;
  }

  void over(UnderWay request) {
    if (!on) {
      return;
    }
    request.errand.doing(
        () -> {
          LOG.info(line(request));
          return request;
        });
  }

  private static String line(UnderWay request) {
    return request.method("OTHER")
        + " "
        + Part.of(request.path).name().toLowerCase(Locale.ROOT)
        + " "
        + (request.status == 0 ? "no answer" : Integer.toString(request.status))
        + request.notes.refusal().map(code -> " " + code.code()).orElse("")
        + " in "
        + TimeUnit.NANOSECONDS.toMillis(System.nanoTime() - request.begunNanos)
        + " ms, request "
        + request.errand.request()
        + ", trace "
        + request.errand.trace();
  }
}
