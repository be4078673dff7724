package indwell.web.surveillance;

import indwell.access.Need;
import indwell.access.OwnScope;
import indwell.intake.CandidateBodies;
import indwell.intake.FactsBodies;
import indwell.usecase.KeepFacts;
import indwell.usecase.ReviewCandidates;
import indwell.web.BodyReader;
import indwell.web.ByteBudget;
import indwell.web.Exchange;
import indwell.web.RequestNotes;
import indwell.web.Workers;
import indwell.web.access.Denial;
import indwell.web.access.Visit;
import io.vertx.core.Vertx;
import io.vertx.core.http.HttpServerRequest;
import java.time.Clock;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.concurrent.RejectedExecutionException;

/** Everything below {@code /surveillance}: from the wire to the handler and back. */
public final class SurveillanceEndpoint {
  private static final String PATH = "/surveillance";
  private static final String CANDIDATES = PATH + "/" + SurveillanceHandler.CANDIDATES;
  private static final long BODY_BUDGET = 32L << 20;
  private static final int WORKERS = 4;
  private static final long STOP_MILLIS = 10_000;
  private static final Set<String> WITH_BODY = Set.of("POST", "PUT");

  private final Vertx vertx;
  private final SurveillanceHandler handler;
  private final Clock clock;
  private final Workers workers = new Workers("indwell-surveillance", WORKERS);
  private final ByteBudget budget = new ByteBudget(BODY_BUDGET);
  private volatile boolean stopping;

  public SurveillanceEndpoint(
      Vertx vertx, KeepFacts facts, ReviewCandidates candidates, Clock clock) {
    this.vertx = vertx;
    this.handler =
        new SurveillanceHandler(new FactsHandler(facts), new CandidatesHandler(candidates));
    this.clock = clock;
  }

  /** Takes a request; on the event loop, before anything of its body has been read. */
  public void handle(HttpServerRequest request, Visit visit) {
    Exchange exchange = new Exchange(vertx, request, visit);
    RequestNotes.here().ifPresent(notes -> notes.route(route(path(request))));
    Denial.of(visit.caller().decide(needs(request)))
        .ifPresentOrElse(
            denial -> {
              visit.refused(denial.issue().code());
              exchange.send(SurveillanceAnswers.denied(denial));
            },
            () -> take(exchange, visit));
  }

  /** A question about candidates is posted, and writes nothing. */
  private static List<Need> needs(HttpServerRequest request) {
    boolean reads =
        !WITH_BODY.contains(request.method().name()) || request.path().equals(CANDIDATES);
    return List.of(Need.of(reads ? OwnScope.SURVEILLANCE_READ : OwnScope.SURVEILLANCE_WRITE));
  }

  private void take(Exchange exchange, Visit visit) {
    HttpServerRequest request = exchange.request();
    if (stopping) {
      exchange.send(SurveillanceAnswers.stopping());
    } else if (compressed(exchange)) {
      exchange.send(SurveillanceAnswers.mediaType("one without Content-Encoding"));
    } else if (WITH_BODY.contains(request.method().name())) {
      int most = mostBytes(request.path());
      new BodyReader(
              vertx,
              exchange,
              most,
              budget,
              body -> work(exchange, visit, body.bytes().getBytes(), body.release()),
              refusal -> exchange.send(SurveillanceAnswers.of(refusal, most)))
          .start();
    } else {
      work(exchange, visit, new byte[0], () -> {});
    }
  }

  private static int mostBytes(String path) {
    return path.equals(CANDIDATES) ? CandidateBodies.MAX_BYTES : FactsBodies.MAX_BYTES;
  }

  private static boolean compressed(Exchange exchange) {
    return exchange
        .header("Content-Encoding")
        .filter(name -> !name.equalsIgnoreCase("identity"))
        .isPresent();
  }

  private void work(Exchange exchange, Visit visit, byte[] body, Runnable release) {
    SurveillanceRequest request = decode(exchange, visit, body);
    try {
      workers.execute(
          () -> {
            try {
              exchange.sendFromWorker(handler.answer(request));
            } finally {
              release.run();
            }
          });
    } catch (RejectedExecutionException e) {
      release.run();
      exchange.send(SurveillanceAnswers.stopping());
    }
  }

  private SurveillanceRequest decode(Exchange exchange, Visit visit, byte[] body) {
    HttpServerRequest request = exchange.request();
    String method = request.method().name().equals("HEAD") ? "GET" : request.method().name();
    return new SurveillanceRequest(
        method,
        path(request),
        exchange.header("Content-Type"),
        exchange.header("If-Match"),
        body,
        clock.instant(),
        visit);
  }

  private static List<String> path(HttpServerRequest request) {
    String below = request.path().substring(PATH.length());
    return below.isEmpty() || below.equals("/")
        ? List.of()
        : Arrays.asList(below.substring(1).split("/", -1));
  }

  /** The pattern of an address, with nothing of it but the words that are ours. */
  private static String route(List<String> path) {
    return switch (path.size()) {
      case 0 -> PATH;
      case 1 -> path.get(0).equals(SurveillanceHandler.CANDIDATES) ? CANDIDATES : PATH + "/*";
      case 2 -> PATH + "/{ward}/{month}";
      default ->
          path.size() == 3 && path.get(2).equals("versions")
              ? PATH + "/{ward}/{month}/versions"
              : PATH + "/*";
    };
  }

  /** Takes nothing more and finishes what is in work. */
  public void stop() {
    stopping = true;
    workers.stop(STOP_MILLIS);
  }
}
