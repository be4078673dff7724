package indwell.web.edge;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.web.BeforeAnswer;
import indwell.web.Exchange;
import indwell.web.access.Denial;
import indwell.web.access.DenialAnswers;
import io.quarkus.runtime.ShutdownDelayInitiatedEvent;
import io.vertx.core.Vertx;
import io.vertx.ext.web.Router;
import io.vertx.ext.web.RoutingContext;
import jakarta.annotation.Priority;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import jakarta.inject.Inject;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.util.Optional;

/**
 * Lets what is under way come to its end before the connections are closed: new requests are turned
 * away from the first moment on, those that were accepted are answered, for so long at most.
 */
@ApplicationScoped
public class GracefulStop {
  /** Before the gate and what stands before that: nothing is asked of nobody any more. */
  private static final int FIRST = -1_000_002;

  /** Before others hear of the stop, who let go of what would last for ever. */
  private static final int TURN_AWAY = 100;

  /** After them. */
  private static final int WAIT = 10_000;

  private static final Logger LOG = System.getLogger(GracefulStop.class.getName());
  private static final long LOOK_EVERY_MILLIS = 20;

  private final Vertx vertx;
  private final EdgeGuard guard;
  private volatile boolean stopping;

  /** Stops what goes through those connections. */
  @Inject
  public GracefulStop(Vertx vertx, EdgeGuard guard) {
    this.vertx = vertx;
    this.guard = guard;
  }

  /** Puts itself before everything else, and the guard into the connections to come. */
  public void register(@Observes Router router) {
    EdgeExtension.install(guard);
    router.route().order(FIRST).handler(this::handle);
  }

  private void handle(RoutingContext context) {
    if (stopping && !context.request().path().startsWith("/q/health")) {
      context.response().putHeader("Connection", "close");
      new Exchange(vertx, context.request(), BeforeAnswer.NOTHING)
          .send(DenialAnswers.at(context.request().path(), stoppingNow()));
      return;
    }
    context.next();
  }

  void turnAway(@Observes @Priority(TURN_AWAY) ShutdownDelayInitiatedEvent event) {
    stopping = true;
    LOG.log(Level.INFO, "Stopping: {0} requests are under way.", guard.traffic().underWay());
  }

  void await(@Observes @Priority(WAIT) ShutdownDelayInitiatedEvent event)
      throws InterruptedException {
    long end = System.nanoTime() + guard.stop().toNanos();
    while (guard.traffic().underWay() > 0 && System.nanoTime() < end) {
      Thread.sleep(LOOK_EVERY_MILLIS);
    }
    int left = guard.traffic().underWay();
    if (left > 0) {
      LOG.log(Level.WARNING, "{0} requests were not answered in time and are cut.", left);
    }
  }

  private static Denial stoppingNow() {
    return new Denial(
        503,
        Issue.error(
            IssueCode.BUSY,
            "",
            "The service is stopping; expected the request again when it is back."),
        Optional.empty());
  }
}
