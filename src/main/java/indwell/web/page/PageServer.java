package indwell.web.page;

import indwell.access.Need;
import indwell.access.Role;
import indwell.domain.refusal.IssueCode;
import indwell.port.StoreUnavailable;
import indwell.usecase.Facility;
import indwell.web.BodyReader;
import indwell.web.BodyReader.Body;
import indwell.web.ByteBudget;
import indwell.web.Exchange;
import indwell.web.FaultLog;
import indwell.web.HttpAnswer;
import indwell.web.MediaType;
import indwell.web.StoreAway;
import indwell.web.Workers;
import indwell.web.access.Denial;
import indwell.web.access.Visit;
import io.quarkus.runtime.ShutdownEvent;
import io.vertx.core.Handler;
import io.vertx.core.Vertx;
import io.vertx.core.http.Cookie;
import io.vertx.core.http.HttpServerRequest;
import io.vertx.ext.web.RoutingContext;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import jakarta.inject.Inject;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.RejectedExecutionException;

/** Runs pages: off the event loop, with whatever goes wrong turned into a page that says so. */
@ApplicationScoped
public class PageServer {
  private static final List<Need> RECORDING = List.of(Need.of(Set.of(Role.NURSE)));
  private static final long STOP_MILLIS = 2_000;
  private static final long MOST_FORM_BYTES = 16 * 1024;
  private static final long MOST_FORMS_BYTES = 4L << 20;
  private static final String FORM = "application/x-www-form-urlencoded";

  private final Vertx vertx;
  private final Clock clock;
  private final ErrorPage errors;
  private final Workers workers = new Workers("indwell-page", 2);
  private final ByteBudget budget = new ByteBudget(MOST_FORMS_BYTES);

  /** Runs pages on that Vert.x and by that clock. */
  @Inject
  public PageServer(Vertx vertx, Clock clock, Facility facility) {
    this.vertx = vertx;
    this.clock = clock;
    this.errors = new ErrorPage(new Templates(), new Moments(facility.calendar()));
  }

  /** Stops taking requests. */
  void stop(@Observes ShutdownEvent event) {
    workers.stop(STOP_MILLIS);
  }

  /** A page that everybody reads who works here. */
  public Handler<RoutingContext> reading(Page page) {
    return reading(Set.of(Role.values()), page);
  }

  /** What has nothing of anybody in it. */
  public Handler<RoutingContext> open(Page page) {
    return reading(List.of(), page);
  }

  /** A page that those read who have one of the roles. */
  public Handler<RoutingContext> reading(Set<Role> roles, Page page) {
    return reading(List.of(Need.of(roles)), page);
  }

  private Handler<RoutingContext> reading(List<Need> needs, Page page) {
    return context -> {
      Visit visit = Visit.of(context);
      Exchange exchange = new Exchange(vertx, context.request(), visit);
      String method = context.request().method().name();
      Optional<Denial> denial = Denial.of(visit.caller().decide(needs));
      if (denial.isPresent()) {
        visit.refused(denial.get().issue().code());
        exchange.send(error(PageRefusal.of(denial.get().issue())));
      } else if (method.equals("GET") || method.equals("HEAD")) {
        work(exchange, visit, context.pathParams(), "", page);
      } else {
        refuse(exchange, method, "GET, HEAD");
      }
    };
  }

  /** A form that is sent by a nurse. */
  public Handler<RoutingContext> taking(Page page) {
    return context -> {
      Visit visit = Visit.of(context);
      Exchange exchange = new Exchange(vertx, context.request(), visit);
      String method = context.request().method().name();
      Optional<Denial> denial = Denial.of(visit.caller().decide(RECORDING));
      if (denial.isPresent()) {
        visit.refused(denial.get().issue().code());
        exchange.send(error(PageRefusal.of(denial.get().issue())));
      } else if (!method.equals("POST")) {
        refuse(exchange, method, "POST");
      } else if (!isForm(exchange)) {
        exchange.send(
            error(
                PageRefusal.of(
                    IssueCode.MEDIA_TYPE, "The body is no form; expected " + FORM + ".")));
      } else {
        Map<String, String> places = Map.copyOf(context.pathParams());
        new BodyReader(
                vertx,
                exchange,
                MOST_FORM_BYTES,
                budget,
                body -> work(exchange, visit, places, text(body), page),
                refusal -> exchange.send(error(refusalOf(refusal))))
            .start();
      }
    };
  }

  private static String text(Body body) {
    String text = body.bytes().toString(StandardCharsets.UTF_8);
    body.release().run();
    return text;
  }

  private static boolean isForm(Exchange exchange) {
    return exchange
        .header("Content-Type")
        .flatMap(MediaType::parse)
        .filter(type -> type.toString().equals(FORM))
        .isPresent();
  }

  private static PageRefusal refusalOf(BodyReader.Refusal refusal) {
    return switch (refusal) {
      case TOO_LARGE ->
          PageRefusal.of(
              IssueCode.TOO_LARGE,
              "The form is larger than " + MOST_FORM_BYTES + " bytes; expected at most that.");
      case NO_ROOM, TOO_SLOW ->
          PageRefusal.of(
              IssueCode.BUSY, "The form could not be taken in; expected it again later.");
    };
  }

  private void refuse(Exchange exchange, String method, String allowed) {
    exchange.send(
        error(
                PageRefusal.of(
                    IssueCode.METHOD_NOT_ALLOWED,
                    "Method " + method + " is not allowed here; expected " + allowed + "."))
            .with("Allow", allowed));
  }

  private HttpAnswer error(PageRefusal refusal) {
    HttpAnswer answer = errors.of(refusal, clock.instant());
    return answer.status() == 503 ? answer.with("Retry-After", "5") : answer;
  }

  private void work(
      Exchange exchange, Visit visit, Map<String, String> places, String form, Page page) {
    HttpServerRequest http = exchange.request();
    String method = http.method().name();
    Map<String, String> where = Map.copyOf(places);
    if (where.values().stream().anyMatch(place -> place.indexOf(0) >= 0)) {
      exchange.send(
          error(
              PageRefusal.of(
                  IssueCode.NOT_FOUND,
                  "Nothing is found at this address; expected one without a zero character.")));
      return;
    }
    Map<String, String> cookies = cookies(http);
    SameOrigin origin = origin(exchange);
    try {
      workers.execute(
          () ->
              exchange.sendFromWorker(
                  guarded(
                      () ->
                          page.answer(
                              new PageRequest(
                                  method,
                                  http.path(),
                                  where,
                                  FormText.read(Optional.ofNullable(http.query()).orElse("")),
                                  FormText.read(form),
                                  cookies,
                                  origin,
                                  visit,
                                  clock.instant())))));
    } catch (RejectedExecutionException stopping) {
      exchange.send(
          error(PageRefusal.of(IssueCode.BUSY, "The service is stopping; expected it back soon.")));
    }
  }

  private static Map<String, String> cookies(HttpServerRequest http) {
    Map<String, String> cookies = new HashMap<>();
    for (Cookie cookie : http.cookies()) {
      cookies.putIfAbsent(cookie.getName(), cookie.getValue());
    }
    return cookies;
  }

  private static SameOrigin origin(Exchange exchange) {
    HttpServerRequest http = exchange.request();
    return new SameOrigin(
        http.scheme() + "://" + http.authority(),
        exchange.header("Origin"),
        exchange.header("Sec-Fetch-Site"));
  }

  private interface Work {
    HttpAnswer answer();
  }

  private HttpAnswer guarded(Work work) {
    try {
      return work.answer();
    } catch (PageRefusal refusal) {
      return error(refusal);
    } catch (StoreUnavailable away) {
      FaultLog.write("a page, the store being away", away);
      return error(
          PageRefusal.of(
              StoreAway.code(away),
              StoreAway.sentence(away, "The record cannot be read or written at this moment.")));
    } catch (RuntimeException fault) {
      long number = FaultLog.write("a page", fault);
      return error(
          PageRefusal.of(
              IssueCode.INTERNAL,
              "The page could not be made; the log has this as fault " + number + "."));
    }
  }
}
