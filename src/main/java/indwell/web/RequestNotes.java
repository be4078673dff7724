package indwell.web;

import indwell.domain.refusal.IssueCode;
import indwell.port.trace.Errand;
import io.vertx.core.Vertx;
import io.vertx.core.impl.ContextInternal;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * What is found out about a request while it is answered, for its line in the log and its span:
 * words of fixed lists alone. It lies in the context that the server gives each request, so that
 * whatever runs on the event loop for the request finds it.
 */
public final class RequestNotes {
  private static final String KEY = RequestNotes.class.getName();

  private final Errand errand;
  private volatile Optional<String> route = Optional.empty();
  private volatile Optional<String> type = Optional.empty();
  private volatile Optional<IssueCode> refusal = Optional.empty();

  /** Of the request that this is the errand of. */
  public RequestNotes(Errand errand) {
    this.errand = errand;
  }

  /** Those of the request whose event loop this is; empty elsewhere. */
  public static Optional<RequestNotes> here() {
    ContextInternal context = own();
    return context == null
        ? Optional.empty()
        : Optional.ofNullable((RequestNotes) context.localContextData().get(KEY));
  }

  /** The errand of the code that runs: that of the request on an event loop, else the thread's. */
  public static Errand errand() {
    return here().map(notes -> notes.errand).orElseGet(Errand::current);
  }

  /** Makes them those of the request whose event loop this is. */
  public void lay() {
    ContextInternal context = own();
    if (context != null) {
      context.localContextData().put(KEY, this);
    }
  }

  /** The context of one request; never that of a whole event loop, where requests would mix. */
  private static @Nullable ContextInternal own() {
    return Vertx.currentContext() instanceof ContextInternal context && context.isDuplicate()
        ? context
        : null;
  }

  /** Which pattern of an address it meets, such as {@code /fhir/{type}/{id}}. */
  public void route(String pattern) {
    route = Optional.of(pattern);
  }

  /** Which type of resource it is about, as the CapabilityStatement names it. */
  public void type(String name) {
    type = Optional.of(name);
  }

  /** Why it was not done. */
  public void refused(IssueCode code) {
    refusal = Optional.of(code);
  }

  /** The pattern; empty for an address that meets none. */
  public Optional<String> route() {
    return route;
  }

  /** The type; empty where there is none in the address. */
  public Optional<String> type() {
    return type;
  }

  /** The code of the answer; empty for what was done. */
  public Optional<IssueCode> refusal() {
    return refusal;
  }
}
