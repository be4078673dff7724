package indwell.web.publishing;

import indwell.access.Need;
import indwell.access.OwnScope;
import indwell.usecase.publish.Publishing;
import indwell.web.Exchange;
import indwell.web.Workers;
import indwell.web.access.Denial;
import indwell.web.access.Visit;
import indwell.web.page.SameOrigin;
import io.vertx.core.Vertx;
import io.vertx.core.http.HttpServerRequest;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.RejectedExecutionException;

/**
 * Everything below {@code /publishing}: from the wire to the handler and back. Bodies are not read.
 */
public final class PublishingEndpoint {
  private static final List<Need> NEEDS = List.of(Need.of(OwnScope.PUBLISHING));
  private static final long STOP_MILLIS = 10_000;

  private final Vertx vertx;
  private final PublishingHandler handler;
  private final Workers workers = new Workers("indwell-publishing", 1);

  public PublishingEndpoint(Vertx vertx, Publishing publishing) {
    this.vertx = vertx;
    this.handler = new PublishingHandler(publishing);
  }

  /** Takes a request; on the event loop. */
  public void handle(HttpServerRequest request, Visit visit) {
    Exchange exchange = new Exchange(vertx, request, visit);
    Denial.of(visit.caller().decide(NEEDS))
        .ifPresentOrElse(
            denial -> {
              visit.refused(denial.issue().code());
              exchange.send(PublishingAnswers.denied(denial));
            },
            () -> take(exchange, visit));
  }

  private void take(Exchange exchange, Visit visit) {
    HttpServerRequest request = exchange.request();
    String method = request.method().name().equals("HEAD") ? "GET" : request.method().name();
    String path = request.path();
    boolean foreign = foreign(exchange);
    try {
      workers.execute(() -> exchange.sendFromWorker(handler.answer(method, path, foreign, visit)));
    } catch (RejectedExecutionException stopped) {
      exchange.send(PublishingAnswers.stopping());
    }
  }

  /** A program says nothing of where a request comes from; a browser does, and has to be ours. */
  private static boolean foreign(Exchange exchange) {
    HttpServerRequest request = exchange.request();
    Optional<String> origin = exchange.header("Origin");
    Optional<String> site = exchange.header("Sec-Fetch-Site");
    String own = request.scheme() + "://" + request.authority();
    return (origin.isPresent() || site.isPresent()) && !new SameOrigin(own, origin, site).holds();
  }

  /** Takes nothing more and finishes what is in work. */
  public void stop() {
    workers.stop(STOP_MILLIS);
  }
}
