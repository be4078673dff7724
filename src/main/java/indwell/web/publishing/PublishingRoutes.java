package indwell.web.publishing;

import indwell.usecase.publish.Publishing;
import indwell.web.access.Visit;
import io.quarkus.runtime.ShutdownEvent;
import io.vertx.core.Vertx;
import io.vertx.ext.web.Router;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import jakarta.inject.Inject;

/** Puts publishing on its paths. */
@ApplicationScoped
public class PublishingRoutes {
  private final PublishingEndpoint endpoint;

  @Inject
  PublishingRoutes(Vertx vertx, Publishing publishing) {
    endpoint = new PublishingEndpoint(vertx, publishing);
  }

  void register(@Observes Router router) {
    router
        .route("/publishing")
        .handler(context -> endpoint.handle(context.request(), Visit.of(context)));
    router
        .route("/publishing/*")
        .handler(context -> endpoint.handle(context.request(), Visit.of(context)));
  }

  void stop(@Observes ShutdownEvent event) {
    endpoint.stop();
  }
}
