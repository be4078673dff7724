package indwell.web.edge;

import indwell.web.RequestNotes;
import io.vertx.core.net.impl.ConnectionBase;
import io.vertx.ext.web.Route;
import io.vertx.ext.web.Router;
import io.vertx.ext.web.RoutingContext;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import java.util.Optional;

/**
 * Hands on what the edge knows of a request to whatever runs for it, before any of that does, and
 * notes which route it took.
 */
@ApplicationScoped
public class RequestMarks {
  /** Before {@link GracefulStop}, and all that answers. */
  private static final int FIRST = -1_000_010;

  /** Puts itself before everything else. */
  public void register(@Observes Router router) {
    router.route().order(FIRST).handler(RequestMarks::handle);
  }

  private static void handle(RoutingContext context) {
    notes(context).ifPresent(notes -> follow(context, notes));
    context.next();
  }

  private static Optional<RequestNotes> notes(RoutingContext context) {
    return context.request().connection() instanceof ConnectionBase connection
        ? EdgeGuard.notes(connection.channel())
        : Optional.empty();
  }

  private static void follow(RoutingContext context, RequestNotes notes) {
    notes.lay();
    context.addHeadersEndHandler(ignored -> note(context.currentRoute(), notes));
  }

  /** Whoever knows better has said so before. */
  private static void note(Route route, RequestNotes notes) {
    if (notes.route().isEmpty() && route != null && route.getPath() != null) {
      notes.route(route.isExactPath() ? route.getPath() : route.getPath() + "*");
    }
  }
}
