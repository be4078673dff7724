package indwell.boot;

import indwell.port.trace.Errand;
import indwell.web.RequestNotes;
import io.quarkus.logging.LoggingFilter;
import java.util.logging.Filter;
import java.util.logging.LogRecord;
import org.jboss.logmanager.ExtLogRecord;

/**
 * Marks each line of the log with the request and the trace that it was written for. It looks when
 * a line is written, so that requests which write none pay nothing.
 */
@LoggingFilter(name = "indwell-correlation")
public final class Correlation implements Filter {
  /** Of the request: what its answer has as {@code X-Request-Id}. */
  static final String REQUEST = "requestId";

  /** Of the trace. */
  static final String TRACE = "traceId";

  @Override
  public boolean isLoggable(LogRecord line) {
    Errand errand = RequestNotes.errand();
    if (line instanceof ExtLogRecord marked && !errand.trace().isEmpty()) {
      marked.putMdc(TRACE, errand.trace());
      if (!errand.request().isEmpty()) {
        marked.putMdc(REQUEST, errand.request());
      }
    }
    return true;
  }
}
