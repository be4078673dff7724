package indwell.port.trace;

import java.util.Optional;

/** Begins spans. Neither waits nor throws, wherever they go. */
public interface Tracing {

  /**
   * A request of somebody else begins.
   *
   * @param parent where the caller is; empty for a trace of its own
   * @param state the caller's {@code tracestate}; passed on, left out when it cannot be read
   */
  Span request(Optional<TraceParent> parent, String state);

  /** Something begins that no request is waiting for: a trace of its own. */
  Span task(String name);
}
