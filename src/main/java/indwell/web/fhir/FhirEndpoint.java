package indwell.web.fhir;

import indwell.domain.refusal.IssueCode;
import indwell.web.BodyReader;
import indwell.web.BodyReader.Body;
import indwell.web.BodyReader.Refusal;
import indwell.web.ByteBudget;
import indwell.web.Exchange;
import indwell.web.HttpAnswer;
import indwell.web.MediaType;
import indwell.web.RequestNotes;
import indwell.web.Workers;
import indwell.web.access.Visit;
import indwell.web.fhir.Dispatcher.Found;
import indwell.web.fhir.Dispatcher.Missed;
import indwell.web.fhir.FhirRequest.Headers;
import indwell.web.fhir.QueryText.Parameter;
import io.vertx.core.Vertx;
import io.vertx.core.buffer.Buffer;
import io.vertx.core.http.HttpServerRequest;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.atomic.AtomicInteger;

/** Everything under {@code /fhir}: from the wire to the dispatcher and back. */
public final class FhirEndpoint {
  /** Bytes of a request body. */
  public static final int MAX_BODY_BYTES = 16 << 20;

  private static final long BODY_BUDGET = 64L << 20;

  /** More than there are connections that read, so that those who wait for one can be told. */
  private static final int WORKERS = 12;

  /** Requests that may wait for a worker. */
  private static final int MOST_IN_WORK = 512;

  private static final long STOP_MILLIS = 10_000;

  /** Parameters that every request may have. */
  static final Set<String> GENERAL = Set.of("_format", "_pretty");

  private final Vertx vertx;
  private final Dispatcher dispatcher;
  private final Clock clock;
  private final Workers workers = new Workers("indwell-fhir", WORKERS);
  private final ByteBudget budget = new ByteBudget(BODY_BUDGET);
  private final AtomicInteger inWork = new AtomicInteger();
  private volatile boolean stopping;

  FhirEndpoint(Vertx vertx, List<Interaction> interactions, Clock clock) {
    this.vertx = vertx;
    this.dispatcher = new Dispatcher(interactions);
    this.clock = clock;
  }

  /** Takes a request; on the event loop, before anything of its body has been read. */
  public void handle(HttpServerRequest request, Visit visit) {
    Exchange exchange = new Exchange(vertx, request, visit);
    try {
      route(exchange, visit);
    } catch (FhirRefusal refusal) {
      refusal.reason().ifPresent(visit::refused);
      exchange.send(refusal.answer());
    } catch (RuntimeException fault) {
      exchange.send(Dispatcher.fault(fault));
    }
  }

  private void route(Exchange exchange, Visit visit) {
    if (stopping) {
      throw stopping();
    }
    HttpServerRequest request = exchange.request();
    String sent = request.method().name();
    List<String> path = path(request.path());
    Dispatcher.Target target = dispatcher.find(sent, path);
    if (target instanceof Missed missed) {
      exchange.send(missed.answer());
      return;
    }
    Interaction interaction = ((Found) target).interaction();
    String method = sent.equals("HEAD") ? "GET" : sent;
    RequestNotes.here().ifPresent(notes -> interaction.route().note(path, notes));
    FhirRequest decoded = decode(exchange, method, path, interaction, visit);
    // Before anything of a body is read.
    FhirAccess.require(visit.caller(), interaction.needs(decoded));
    if (method.equals("POST") || method.equals("PUT")) {
      Optional<String> type =
          exchange.header("Content-Type").flatMap(MediaType::parse).map(MediaType::toString);
      checkMediaType(exchange, interaction, type);
      if (type.filter(interaction.consumesLines()::contains).isPresent()) {
        readLines(exchange, interaction.lines(decoded));
      } else {
        readBody(exchange, interaction, decoded);
      }
    } else {
      work(exchange, interaction, decoded, () -> {});
    }
  }

  private static List<String> path(String raw) {
    List<String> segments = new ArrayList<>();
    String below = raw.substring("/fhir".length());
    for (String segment : below.split("/", -1)) {
      segments.add(QueryText.decode(segment, false).orElseThrow(() -> undecodable("path", raw)));
    }
    // What stands before the first slash is nothing; a slash at the end says nothing either.
    segments.remove(0);
    if (!segments.isEmpty() && segments.get(segments.size() - 1).isEmpty()) {
      segments.remove(segments.size() - 1);
    }
    return segments;
  }

  private FhirRequest decode(
      Exchange exchange, String method, List<String> path, Interaction interaction, Visit visit) {
    String query = Optional.ofNullable(exchange.request().query()).orElse("");
    List<Parameter> all =
        QueryText.parameters(query).orElseThrow(() -> undecodable("query", query));
    Optional<String> format =
        all.stream().filter(one -> one.name().equals("_format")).map(Parameter::value).findFirst();
    return new FhirRequest(
        method,
        base(exchange.request()),
        path,
        all.stream().filter(one -> !GENERAL.contains(one.name())).toList(),
        new Headers(
            joined(exchange, "Prefer"),
            exchange.header("If-None-Match"),
            exchange.header("If-Modified-Since"),
            exchange.header("If-Match"),
            exchange.header("If-None-Exist")),
        Buffer.buffer(),
        Negotiation.choose(accept(exchange), format, interaction.produces()),
        clock.instant(),
        origin(exchange.request()) + exchange.request().uri(),
        visit);
  }

  private static Optional<String> accept(Exchange exchange) {
    return joined(exchange, "Accept");
  }

  /** A header that may stand more than once, which means the same as a list. */
  private static Optional<String> joined(Exchange exchange, String name) {
    List<String> values = exchange.request().headers().getAll(name);
    return values.isEmpty() ? Optional.empty() : Optional.of(String.join(",", values));
  }

  private static String base(HttpServerRequest request) {
    return origin(request) + "/fhir";
  }

  private static String origin(HttpServerRequest request) {
    String authority =
        request.authority() == null
            ? request.localAddress().toString()
            : request.authority().toString();
    return request.scheme() + "://" + authority;
  }

  private static void checkMediaType(
      Exchange exchange, Interaction interaction, Optional<String> type) {
    Optional<String> given = exchange.header("Content-Type");
    boolean compressed =
        exchange
            .header("Content-Encoding")
            .filter(name -> !name.equalsIgnoreCase("identity"))
            .isPresent();
    boolean empty = exchange.declaredLength() == 0;
    boolean known =
        type.filter(
                one ->
                    interaction.consumes().contains(one)
                        || interaction.consumesLines().contains(one))
            .isPresent();
    if (compressed || !(empty || known)) {
      throw FhirRefusal.of(
          415,
          IssueCode.MEDIA_TYPE,
          "",
          (compressed
                  ? "A compressed body is not read"
                  : given
                      .map(name -> "Media type " + Shown.text(name) + " is not read")
                      .orElse("No media type is given"))
              + "; expected "
              + interaction.consumes().get(0)
              + " without Content-Encoding.");
    }
  }

  private void readBody(Exchange exchange, Interaction interaction, FhirRequest decoded) {
    new BodyReader(
            vertx,
            exchange,
            MAX_BODY_BYTES,
            budget,
            body -> takeBody(exchange, interaction, decoded, body),
            refusal -> exchange.send(answerTo(refusal)))
        .start();
  }

  private void readLines(Exchange exchange, LineTaker taker) {
    if (!budget.take(LineBody.COST)) {
      taker.release();
      exchange.send(busy());
      return;
    }
    Runnable released = () -> budget.giveBack(LineBody.COST);
    new LineBody(vertx, exchange, taker, workers, LineBody.MAX_BYTES, released).start();
  }

  private void takeBody(
      Exchange exchange, Interaction interaction, FhirRequest decoded, Body body) {
    work(exchange, interaction, decoded.withBody(body.bytes()), body.release());
  }

  private void work(
      Exchange exchange, Interaction interaction, FhirRequest request, Runnable release) {
    if (inWork.incrementAndGet() > MOST_IN_WORK) {
      inWork.decrementAndGet();
      release.run();
      exchange.send(busy());
      return;
    }
    Runnable done =
        () -> {
          inWork.decrementAndGet();
          release.run();
        };
    try {
      workers.execute(
          () -> {
            try {
              exchange.sendFromWorker(Dispatcher.run(interaction, request));
            } finally {
              done.run();
            }
          });
    } catch (RejectedExecutionException e) {
      done.run();
      exchange.send(stoppingAnswer());
    }
  }

  private static HttpAnswer answerTo(Refusal refusal) {
    return switch (refusal) {
      case TOO_LARGE ->
          FhirAnswers.outcome(
              413,
              IssueCode.TOO_LARGE,
              "The body is too large; expected at most " + MAX_BODY_BYTES + " bytes.");
      case NO_ROOM -> busy();
      case TOO_SLOW ->
          FhirAnswers.outcome(
              408,
              IssueCode.BUSY,
              "The body did not arrive in "
                  + BodyReader.DEADLINE_MILLIS / 1000
                  + " seconds; expected it within that time.");
    };
  }

  private static HttpAnswer busy() {
    return FhirAnswers.outcome(
        429,
        IssueCode.BUSY,
        "The service has as much in work as it can hold; expected the request again later.");
  }

  static HttpAnswer stoppingAnswer() {
    FhirRefusal refusal = stopping();
    return FhirAnswers.outcome(refusal.status(), refusal.issues());
  }

  private static FhirRefusal stopping() {
    return FhirRefusal.of(
        503,
        IssueCode.BUSY,
        "",
        "The service is stopping; expected the request again when it is back.");
  }

  private static FhirRefusal undecodable(String what, String given) {
    return FhirRefusal.of(
        400,
        IssueCode.MALFORMED_TEXT,
        "",
        "The "
            + what
            + " "
            + Shown.text(given)
            + " cannot be decoded; expected percent-encoded UTF-8.");
  }

  /** Takes nothing more and finishes what is in work. */
  public void stop() {
    stopping = true;
    workers.stop(STOP_MILLIS);
  }
}
