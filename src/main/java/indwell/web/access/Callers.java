package indwell.web.access;

import indwell.access.Caller;
import io.vertx.ext.web.RoutingContext;

/** Where the caller of a request is kept while it goes from route to route. */
public final class Callers {
  private static final String KEY = Callers.class.getName();

  private Callers() {}

  /** Who asks; nobody, unless the gate has found out. */
  public static Caller of(RoutingContext context) {
    return context.get(KEY) instanceof Caller caller ? caller : Caller.NOBODY;
  }

  /** Says who asks. */
  public static void put(RoutingContext context, Caller caller) {
    context.put(KEY, caller);
  }
}
