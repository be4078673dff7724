package indwell.web.metrics;

import indwell.access.Need;
import indwell.access.OwnScope;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.web.Exchange;
import indwell.web.FaultLog;
import indwell.web.HttpAnswer;
import indwell.web.Workers;
import indwell.web.access.Callers;
import indwell.web.access.Denial;
import indwell.web.access.DenialAnswers;
import indwell.web.access.Visit;
import io.quarkus.runtime.ShutdownEvent;
import io.vertx.core.Vertx;
import io.vertx.core.buffer.Buffer;
import io.vertx.core.http.HttpMethod;
import io.vertx.ext.web.Router;
import io.vertx.ext.web.RoutingContext;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import jakarta.inject.Inject;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.RejectedExecutionException;

/** {@code GET /metrics}, for whoever has its scope. */
@ApplicationScoped
public class MetricsRoute {
  private static final String PATH = "/metrics";
  private static final List<Need> NEEDS = List.of(Need.of(OwnScope.METRICS));
  private static final long STOP_MILLIS = 1_000;

  private final Vertx vertx;
  private final Figures figures;
  private final Workers workers = new Workers("indwell-metrics", 1);

  /** Shows those figures. */
  @Inject
  public MetricsRoute(Vertx vertx, Figures figures) {
    this.vertx = vertx;
    this.figures = figures;
  }

  /** Puts itself on its path. */
  public void register(@Observes Router router) {
    router.route(PATH).handler(this::handle);
  }

  void stop(@Observes ShutdownEvent event) {
    workers.stop(STOP_MILLIS);
  }

  private void handle(RoutingContext context) {
    Exchange exchange = new Exchange(vertx, context.request(), Visit.of(context));
    Optional<Denial> denial = Denial.of(Callers.of(context).decide(NEEDS));
    HttpMethod method = context.request().method();
    if (denial.isPresent()) {
      exchange.send(DenialAnswers.at(PATH, denial.get()));
    } else if (!method.equals(HttpMethod.GET) && !method.equals(HttpMethod.HEAD)) {
      exchange.send(DenialAnswers.at(PATH, wrongMethod(method)).with("Allow", "GET, HEAD"));
    } else {
      work(exchange);
    }
  }

  private void work(Exchange exchange) {
    try {
      workers.execute(() -> exchange.sendFromWorker(answer()));
    } catch (RejectedExecutionException stopping) {
      exchange.send(
          DenialAnswers.at(
              PATH,
              denial(503, IssueCode.BUSY, "The service is stopping; expected it back soon.")));
    }
  }

  private HttpAnswer answer() {
    try {
      return HttpAnswer.of(200, Figures.CONTENT_TYPE, Buffer.buffer(figures.text()));
    } catch (RuntimeException fault) {
      long number = FaultLog.write("GET /metrics", fault);
      return DenialAnswers.at(
          PATH,
          denial(
              500,
              IssueCode.INTERNAL,
              "The service failed; its log has this as fault " + number + "."));
    }
  }

  private static Denial wrongMethod(HttpMethod method) {
    return denial(
        405,
        IssueCode.METHOD_NOT_ALLOWED,
        "Method " + method.name() + " is not allowed on " + PATH + "; expected GET.");
  }

  private static Denial denial(int status, IssueCode code, String sentence) {
    return new Denial(status, Issue.error(code, "", sentence), Optional.empty());
  }
}
