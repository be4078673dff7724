package indwell.web.events;

import indwell.usecase.SharedCommits;
import indwell.web.access.Visit;
import io.quarkus.runtime.ShutdownDelayInitiatedEvent;
import io.quarkus.runtime.ShutdownEvent;
import io.vertx.core.Vertx;
import io.vertx.ext.web.Router;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import jakarta.inject.Inject;
import java.nio.file.Path;
import java.time.Clock;

/** Puts the event intake on its path. */
@ApplicationScoped
public class EventRoutes {
  private final EventIntake intake;

  @Inject
  EventRoutes(Vertx vertx, SharedCommits sharedCommits, Clock clock) {
    intake =
        new EventIntake(
            vertx,
            sharedCommits::record,
            clock,
            EventLimits.DEFAULT,
            Path.of(System.getProperty("java.io.tmpdir")));
  }

  void register(@Observes Router router) {
    router.route("/events").handler(context -> intake.handle(context.request(), Visit.of(context)));
  }

  /** Streams need not end by themselves, so that they are ended where a stop waits for others. */
  void endStreams(@Observes ShutdownDelayInitiatedEvent event) {
    intake.endStreams();
  }

  void stop(@Observes ShutdownEvent event) {
    intake.stop();
  }
}
