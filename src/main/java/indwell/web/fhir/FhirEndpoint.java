package indwell.web.fhir;

import indwell.web.BodyReader;
import indwell.web.BodyReader.Body;
import indwell.web.ByteBudget;
import indwell.web.Exchange;
import indwell.web.MediaType;
import indwell.web.RequestNotes;
import indwell.web.access.Visit;
import indwell.web.fhir.Dispatcher.Found;
import indwell.web.fhir.Dispatcher.Missed;
import io.vertx.core.Vertx;
import io.vertx.core.http.HttpServerRequest;
import java.time.Clock;
import java.util.List;
import java.util.Optional;

/** Everything under {@code /fhir}: from the wire to the dispatcher and back. */
public final class FhirEndpoint {
  /** Bytes of a request body. */
  public static final int MAX_BODY_BYTES = 16 << 20;

  private static final long BODY_BUDGET = 64L << 20;

  private final Vertx vertx;
  private final Dispatcher dispatcher;
  private final RequestHead head;
  private final FhirWork work = new FhirWork();
  private final ByteBudget budget = new ByteBudget(BODY_BUDGET);
  private volatile boolean stopping;

  FhirEndpoint(Vertx vertx, List<Interaction> interactions, Clock clock) {
    this.vertx = vertx;
    this.dispatcher = new Dispatcher(interactions);
    this.head = new RequestHead(clock);
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
      throw TurnedAway.stopping();
    }
    HttpServerRequest request = exchange.request();
    String sent = request.method().name();
    List<String> path = RequestHead.path(request.path());
    Dispatcher.Target target = dispatcher.find(sent, path);
    if (target instanceof Missed missed) {
      exchange.send(missed.answer());
      return;
    }
    Interaction interaction = ((Found) target).interaction();
    String method = sent.equals("HEAD") ? "GET" : sent;
    RequestNotes.here().ifPresent(notes -> interaction.route().note(path, notes));
    FhirRequest decoded = head.decode(exchange, method, path, interaction, visit);
    // Before anything of a body is read.
    FhirAccess.require(visit.caller(), interaction.needs(decoded));
    if (method.equals("POST") || method.equals("PUT")) {
      Optional<String> type =
          exchange.header("Content-Type").flatMap(MediaType::parse).map(MediaType::toString);
      RequestHead.checkMediaType(exchange, interaction, type);
      if (type.filter(interaction.consumesLines()::contains).isPresent()) {
        readLines(exchange, interaction.lines(decoded));
      } else {
        readBody(exchange, interaction, decoded);
      }
    } else {
      work.take(exchange, interaction, decoded, () -> {});
    }
  }

  private void readBody(Exchange exchange, Interaction interaction, FhirRequest decoded) {
    new BodyReader(
            vertx,
            exchange,
            MAX_BODY_BYTES,
            budget,
            body -> takeBody(exchange, interaction, decoded, body),
            refusal -> exchange.send(TurnedAway.answerTo(refusal)))
        .start();
  }

  private void readLines(Exchange exchange, LineTaker taker) {
    if (!budget.take(LineBody.COST)) {
      taker.release();
      exchange.send(TurnedAway.busy());
      return;
    }
    Runnable released = () -> budget.giveBack(LineBody.COST);
    new LineBody(vertx, exchange, taker, work.workers(), LineBody.MAX_BYTES, released).start();
  }

  private void takeBody(
      Exchange exchange, Interaction interaction, FhirRequest decoded, Body body) {
    work.take(exchange, interaction, decoded.withBody(body.bytes()), body.release());
  }

  /** Takes nothing more and finishes what is in work. */
  public void stop() {
    stopping = true;
    work.stop();
  }
}
