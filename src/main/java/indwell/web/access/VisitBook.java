package indwell.web.access;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.port.ClinicalStore;
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
import java.util.Optional;
import java.util.Set;
import java.util.function.BooleanSupplier;
import java.util.stream.Collectors;

/**
 * Sees every request come and its answer begin, and tells the audit trail, the {@link Gate}'s
 * refusals included. What an {@link Exchange} sends has been told before; what others answer, which
 * are refusals, is told when it begins. While the trail has no room nobody is let in, nor while
 * nobody gets on with the store and enough wait for that.
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
  private final BooleanSupplier crowded;

  /** Over that trail, in front of that store. */
  @Inject
  public VisitBook(Vertx vertx, AuditTrail trail, Clock clock, ClinicalStore store) {
    this(vertx, trail, clock, store::crowded);
  }

  /** Over that trail, in front of a store that has always room. */
  public VisitBook(Vertx vertx, AuditTrail trail, Clock clock) {
    this(vertx, trail, clock, () -> false);
  }

  private VisitBook(Vertx vertx, AuditTrail trail, Clock clock, BooleanSupplier crowded) {
    this.vertx = vertx;
    this.trail = trail;
    this.clock = clock;
    this.crowded = crowded;
  }

  /** Puts itself before everything else. */
  public void register(@Observes Router router) {
    router.route().order(ORDER).handler(this::handle);
  }

  private void handle(RoutingContext context) {
    String path = context.request().path();
    if (NOT_KEPT.contains(path)) {
      context.next();
    } else if (!trail.hasRoom()) {
      turnAway(context, NotAudited.noRoom());
    } else if (crowded.getAsBoolean() && Area.of(path) != Area.METRICS) {
      begin(context, path).refused(IssueCode.STORE_CROWDED);
      turnAway(context, storeCrowded());
    } else {
      begin(context, path);
      context.next();
    }
  }

  private Visit begin(RoutingContext context, String path) {
    HttpMethod method = context.request().method();
    Visit visit = Visit.begin(context, trail, clock, status -> leavesNothing(method, path, status));
    context.addHeadersEndHandler(ignored -> visit.begun(context.response().getStatusCode()));
    return visit;
  }

  /** At once: nobody waits for the row, which could not be written soon. */
  private void turnAway(RoutingContext context, Denial denial) {
    new Exchange(vertx, context.request(), BeforeAnswer.NOTHING)
        .send(DenialAnswers.at(context.request().path(), denial));
  }

  private static Denial storeCrowded() {
    return new Denial(
        503,
        Issue.error(
            IssueCode.STORE_CROWDED,
            "",
            "Nobody gets a connection to the database at this moment; expected the request again"
                + " later."),
        Optional.empty());
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
