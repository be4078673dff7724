package indwell.web.surveillance;

import indwell.usecase.KeepFacts;
import io.quarkus.runtime.ShutdownEvent;
import io.vertx.core.Vertx;
import io.vertx.ext.web.Router;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import jakarta.inject.Inject;
import java.time.Clock;

/** Puts the facts on their path. */
@ApplicationScoped
public class FactsRoutes {
  private final FactsEndpoint endpoint;

  @Inject
  FactsRoutes(Vertx vertx, KeepFacts facts, Clock clock) {
    endpoint = new FactsEndpoint(vertx, facts, clock);
  }

  void register(@Observes Router router) {
    router.route("/surveillance").handler(context -> endpoint.handle(context.request()));
    router.route("/surveillance/*").handler(context -> endpoint.handle(context.request()));
  }

  void stop(@Observes ShutdownEvent event) {
    endpoint.stop();
  }
}
