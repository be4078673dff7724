package indwell.web.access;

import indwell.usecase.audit.AuditTrail;
import indwell.web.BeforeAnswer;
import indwell.web.Exchange;
import io.vertx.core.Vertx;
import io.vertx.core.http.HttpMethod;
import io.vertx.ext.web.Router;
import io.vertx.ext.web.RoutingContext;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import jakarta.inject.Inject;
import java.time.Clock;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * Sees every request come and its answer begin, and tells the audit trail, the {@link Gate}'s
 * refusals included. What an {@link Exchange} sends has been told before; what others answer, which
 * are refusals, is told when it begins. While the trail has no room nobody is let in.
 */
@ApplicationScoped
public class VisitBook {
  /** Before the gate, and whatever else refuses. */
  private static final int ORDER = Gate.FIRST - 3;

  /** Open to whoever asks, with nothing of anybody in it. */
  private static final Set<String> NOT_KEPT =
      Area.OPEN_PATHS.stream()
          .filter(path -> !path.equals(LoginPages.BACK))
          .collect(Collectors.toUnmodifiableSet());

  private final Vertx vertx;
  private final AuditTrail trail;
  private final Clock clock;

  /** Over that trail. */
  @Inject
  public VisitBook(Vertx vertx, AuditTrail trail, Clock clock) {
    this.vertx = vertx;
    this.trail = trail;
    this.clock = clock;
  }

  /** Puts itself before everything else. */
  public void register(@Observes Router router) {
    router.route().order(ORDER).handler(this::handle);
  }

  private void handle(RoutingContext context) {
    String path = context.request().path();
    if (NOT_KEPT.contains(path)) {
      context.next();
    } else if (trail.hasRoom()) {
      HttpMethod method = context.request().method();
      Visit visit =
          Visit.begin(context, trail, clock, status -> leavesNothing(method, path, status));
      context.addHeadersEndHandler(ignored -> visit.begun(context.response().getStatusCode()));
      context.next();
    } else {
      new Exchange(vertx, context.request(), BeforeAnswer.NOTHING)
          .send(DenialAnswers.at(path, NotAudited.noRoom()));
    }
  }

  /**
   * A browser that asks what it might ask has asked for nothing yet; figures of the service are
   * read several times a minute and are about nobody.
   */
  static boolean leavesNothing(HttpMethod method, String path, int status) {
    return (status == 204 && method.equals(HttpMethod.OPTIONS))
        || (status == 200 && Area.of(path) == Area.METRICS);
  }
}
