package indwell.web.access;

import indwell.access.Caller;
import indwell.access.Doubt;
import indwell.access.Tokens;
import indwell.access.Verdict;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.web.BeforeAnswer;
import indwell.web.Exchange;
import indwell.web.FaultLog;
import indwell.web.HttpAnswer;
import indwell.web.Workers;
import indwell.web.access.AccessMode.Guarded;
import indwell.web.access.AccessMode.People;
import io.quarkus.runtime.ShutdownEvent;
import io.vertx.core.Vertx;
import io.vertx.core.buffer.Buffer;
import io.vertx.core.http.HttpMethod;
import io.vertx.core.http.HttpServerRequest;
import io.vertx.core.http.HttpServerResponse;
import io.vertx.ext.web.Router;
import io.vertx.ext.web.RoutingContext;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import jakarta.inject.Inject;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.RejectedExecutionException;

/**
 * What every request passes first. It finds out who asks; what they may do is decided where it is
 * done, so that nothing can be reached around it: a request that did not pass here is nobody's.
 */
@ApplicationScoped
public class Gate {
  /** Before every other route. */
  static final int FIRST = -1_000_000;

  private static final int WORKERS = 2;
  private static final long STOP_MILLIS = 1_000;

  private final Vertx vertx;
  private final AccessMode mode;
  private final Clock clock;
  private final Workers workers = new Workers("indwell-token", WORKERS);

  /** A gate of that mode. */
  @Inject
  public Gate(Vertx vertx, AccessMode mode, Clock clock) {
    this.vertx = vertx;
    this.mode = mode;
    this.clock = clock;
  }

  /** Puts itself before everything else. */
  public void register(@Observes Router router) {
    router.route().order(FIRST).handler(this::handle);
  }

  void stop(@Observes ShutdownEvent event) {
    workers.stop(STOP_MILLIS);
  }

  private void handle(RoutingContext context) {
    protect(context.response());
    if (mode instanceof Guarded guarded) {
      recognise(context, guarded);
    } else if (LoopbackHost.meant(context.request().headers().getAll("Host"))) {
      goOn(context, Caller.DEVELOPMENT);
    } else {
      deny(context, foreignHost(context.request().headers().getAll("Host")));
    }
  }

  /** What no answer does without; a page says more, and says it later. */
  private static void protect(HttpServerResponse response) {
    response.putHeader("X-Content-Type-Options", "nosniff");
    response.putHeader("Referrer-Policy", "no-referrer");
    response.putHeader("Cache-Control", "no-store");
  }

  private void recognise(RoutingContext context, Guarded guarded) {
    switch (Area.of(context.request().path())) {
      case OPEN -> goOn(context, Caller.NOBODY);
      case FHIR, EVENTS, SURVEILLANCE, PUBLISHING, METRICS -> byToken(context, guarded);
      case PAGES -> bySession(context, guarded);
    }
  }

  /** A token is not looked at here: what a program may do is not what a page does. */
  private void bySession(RoutingContext context, Guarded guarded) {
    Optional<People> people = guarded.people();
    HttpServerRequest request = context.request();
    Caller caller =
        people
            .flatMap(
                all ->
                    Cookies.of(request, Cookies.SESSION)
                        .flatMap(name -> all.sessions().find(name, clock.instant())))
            .map(known -> (Caller) known)
            .orElse(Caller.NOBODY);
    Verdict verdict = caller.decide(AccessMode.PEOPLE);
    if (verdict.allowed()) {
      within(context, guarded, caller);
    } else if (verdict instanceof Verdict.Unknown
        && people.isPresent()
        && request.method().equals(HttpMethod.GET)) {
      Visit.of(context).refused(Denial.of(verdict).orElseThrow().issue().code());
      new Exchange(vertx, request, Visit.of(context)).send(toLogin(request));
    } else {
      deny(context, Denial.of(verdict).orElseThrow());
    }
  }

  private static HttpAnswer toLogin(HttpServerRequest request) {
    return new HttpAnswer(
        303,
        Map.of(
            "Location",
            LoginPages.LOGIN + "?to=" + URLEncoder.encode(request.uri(), StandardCharsets.UTF_8)),
        Buffer.buffer());
  }

  private void byToken(RoutingContext context, Guarded guarded) {
    Bearer bearer = Bearer.of(context.request().headers().getAll("Authorization"));
    if (bearer.doubt().isPresent()) {
      within(context, guarded, new Caller.Nobody(bearer.doubt().get()));
      return;
    }
    Optional<Caller> remembered = guarded.tokens().remembered(bearer.token(), clock.instant());
    if (remembered.isPresent()) {
      within(context, guarded, remembered.get());
    } else if (!tooMany(context, guarded, asker(context))) {
      // Looking at a token costs more than a request does, so addresses are limited beside.
      look(context, guarded, bearer.token());
    }
  }

  /** Off the event loop, for the keys may have to be fetched; nothing of the body is read yet. */
  private void look(RoutingContext context, Guarded guarded, String token) {
    HttpServerRequest request = context.request();
    Exchange exchange = new Exchange(vertx, request, BeforeAnswer.NOTHING);
    request.pause();
    try {
      workers.execute(
          () -> {
            Caller caller = caller(guarded.tokens(), token);
            exchange.onLoop(
                () -> {
                  request.resume();
                  within(context, guarded, caller);
                });
          });
    } catch (RejectedExecutionException stopping) {
      request.resume();
      goOn(context, new Caller.Nobody(Doubt.ISSUER_AWAY));
    }
  }

  private Caller caller(Tokens tokens, String token) {
    try {
      return tokens.of(token, clock.instant());
    } catch (RuntimeException fault) {
      FaultLog.write("looking at a token", fault);
      return new Caller.Nobody(Doubt.NOT_A_TOKEN);
    }
  }

  /** Goes on, if the caller has not asked too often. */
  private void within(RoutingContext context, Guarded guarded, Caller caller) {
    String asker = caller instanceof Caller.Known ? caller.owner() : asker(context);
    if (!tooMany(context, guarded, asker)) {
      goOn(context, caller);
    }
  }

  private static String asker(RoutingContext context) {
    return "address " + context.request().remoteAddress().hostAddress();
  }

  private boolean tooMany(RoutingContext context, Guarded guarded, String asker) {
    Optional<Duration> wait = guarded.allowance().take(asker, clock.instant());
    wait.ifPresent(
        time -> {
          HttpServerRequest request = context.request();
          new Exchange(vertx, request, BeforeAnswer.NOTHING)
              .send(
                  DenialAnswers.at(request.path(), tooOften(guarded, time))
                      .with("Retry-After", Long.toString(time.toSeconds())));
        });
    return wait.isPresent();
  }

  private static Denial tooOften(Guarded guarded, Duration wait) {
    return new Denial(
        429,
        Issue.error(
            IssueCode.TOO_MANY_REQUESTS,
            "",
            "The client asks more often than "
                + guarded.allowance().text()
                + "; expected the request again in "
                + wait.toSeconds()
                + " s."),
        Optional.empty());
  }

  private static void goOn(RoutingContext context, Caller caller) {
    Callers.put(context, caller);
    context.next();
  }

  private void deny(RoutingContext context, Denial denial) {
    HttpServerRequest request = context.request();
    Visit.of(context).refused(denial.issue().code());
    new Exchange(vertx, request, Visit.of(context)).send(DenialAnswers.at(request.path(), denial));
  }

  private static Denial foreignHost(Iterable<String> hosts) {
    return new Denial(
        421,
        Issue.error(
            IssueCode.HOST_NOT_LOOPBACK,
            "",
            "Host "
                + Shortened.quoted(String.join(", ", hosts))
                + " is not this machine; expected localhost, 127.0.0.1 or [::1], because in"
                + " development mode nobody is asked who they are."),
        Optional.empty());
  }
}
