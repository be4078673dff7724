package indwell.web.surveillance;

import indwell.usecase.KeepFacts;
import indwell.usecase.ReviewCandidates;
import indwell.web.access.Visit;
import io.quarkus.runtime.ShutdownEvent;
import io.vertx.core.Vertx;
import io.vertx.ext.web.Router;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import jakarta.inject.Inject;
import java.time.Clock;

/** Puts facts and candidates on their paths. */
@ApplicationScoped
public class SurveillanceRoutes {
  private final SurveillanceEndpoint endpoint;

  @Inject
  SurveillanceRoutes(Vertx vertx, KeepFacts facts, ReviewCandidates candidates, Clock clock) {
    endpoint = new SurveillanceEndpoint(vertx, facts, candidates, clock);
  }

  void register(@Observes Router router) {
    router
        .route("/surveillance")
        .handler(context -> endpoint.handle(context.request(), Visit.of(context)));
    router
        .route("/surveillance/*")
        .handler(context -> endpoint.handle(context.request(), Visit.of(context)));
  }

  void stop(@Observes ShutdownEvent event) {
    endpoint.stop();
  }
}
