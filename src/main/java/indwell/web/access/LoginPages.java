package indwell.web.access;

import indwell.access.Caller;
import indwell.access.Doubt;
import indwell.access.Logins;
import indwell.access.Logins.Attempt;
import indwell.access.Sessions;
import indwell.access.Sessions.Begun;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.web.Exchange;
import indwell.web.FaultLog;
import indwell.web.HttpAnswer;
import indwell.web.Workers;
import indwell.web.access.AccessMode.Guarded;
import indwell.web.access.AccessMode.People;
import io.quarkus.runtime.ShutdownEvent;
import io.vertx.core.Vertx;
import io.vertx.core.buffer.Buffer;
import io.vertx.core.http.HttpServerRequest;
import io.vertx.ext.web.Router;
import io.vertx.ext.web.RoutingContext;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import jakarta.inject.Inject;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;

/** Sends people to the issuer to log in, and takes them back in. */
@ApplicationScoped
public class LoginPages {
  static final String LOGIN = "/login";
  static final String BACK = "/login/callback";
  private static final String LOGOUT = "/logout";

  private final Vertx vertx;
  private final AccessMode mode;
  private final Clock clock;
  private final Workers workers = new Workers("indwell-login", 2);

  /** For the people of that mode, if there are any. */
  @Inject
  public LoginPages(Vertx vertx, AccessMode mode, Clock clock) {
    this.vertx = vertx;
    this.mode = mode;
    this.clock = clock;
  }

  /** Puts them on their paths; nowhere when nobody logs in. */
  public void register(@Observes Router router) {
    if (mode instanceof Guarded guarded) {
      guarded.people().ifPresent(people -> register(router, people));
    }
  }

  private void register(Router router, People people) {
    router.get(LOGIN).handler(context -> work(context, request -> login(request, people)));
    router.get(BACK).handler(context -> work(context, request -> back(context, people)));
    router.post(LOGOUT).handler(context -> work(context, request -> logout(request, people)));
  }

  void stop(@Observes ShutdownEvent event) {
    workers.stop(1_000);
  }

  private void work(RoutingContext context, Function<HttpServerRequest, HttpAnswer> task) {
    Exchange exchange = new Exchange(vertx, context.request(), Visit.of(context));
    workers.execute(
        () -> {
          try {
            exchange.sendFromWorker(task.apply(context.request()));
          } catch (RuntimeException fault) {
            FaultLog.write("a login", fault);
            exchange.sendFromWorker(failed("it could not be looked at"));
          }
        });
  }

  private HttpAnswer login(HttpServerRequest request, People people) {
    Attempt attempt = people.sessions().attempt();
    Begun begun = new Begun(attempt, own(request.getParam("to")));
    return people
        .logins()
        .address(attempt, people.base(request) + BACK)
        .map(
            address ->
                seeOther(address)
                    .with(
                        "Set-Cookie",
                        Cookies.set(
                            Cookies.LOGIN,
                            people.sessions().begin(begun, clock.instant()),
                            Sessions.ATTEMPT,
                            people.secure(request))))
        .orElseGet(
            () ->
                DenialAnswers.at(
                    LOGIN,
                    Denial.of(new Caller.Nobody(Doubt.ISSUER_AWAY).decide(AccessMode.PEOPLE))
                        .orElseThrow()));
  }

  /** An address of this service: one of elsewhere would make it a signpost for anybody. */
  static String own(String to) {
    boolean own = to != null && to.matches("/(?![/\\\\])[\\x21-\\x5b\\x5d-\\x7e]*");
    return own ? to : "/";
  }

  private HttpAnswer back(RoutingContext context, People people) {
    HttpServerRequest request = context.request();
    Visit.of(context).refused(IssueCode.LOGIN_FAILED);
    Instant now = clock.instant();
    Optional<Begun> begun =
        Cookies.of(request, Cookies.LOGIN).flatMap(name -> people.sessions().take(name, now));
    if (begun.isEmpty() || !same(begun.get().attempt().state(), request.getParam("state"))) {
      return failed("it was not begun by this browser within ten minutes");
    }
    String code = request.getParam("code");
    if (code == null || request.getParam("error") != null) {
      return failed("the issuer let nobody in");
    }
    Logins logins = people.logins();
    return logins
        .finish(code, begun.get().attempt(), people.base(request) + BACK, now)
        .map(
            person -> {
              Visit.of(context).letIn(person);
              return in(request, people, person, begun.get().to(), now);
            })
        .orElseGet(() -> failed("the issuer did not vouch for anybody"));
  }

  private static boolean same(String ours, String given) {
    return given != null
        && MessageDigest.isEqual(
            ours.getBytes(StandardCharsets.UTF_8), given.getBytes(StandardCharsets.UTF_8));
  }

  private static HttpAnswer in(
      HttpServerRequest request, People people, Caller.Known person, String to, Instant now) {
    return seeOther(to)
        .with(
            "Set-Cookie",
            Cookies.set(
                Cookies.SESSION,
                people.sessions().open(person, now),
                people.sessions().keep(),
                people.secure(request)));
  }

  private static HttpAnswer logout(HttpServerRequest request, People people) {
    Cookies.of(request, Cookies.SESSION).ifPresent(people.sessions()::close);
    return text(200, "You are logged out here; the issuer may still know you.\n")
        .with(
            "Set-Cookie", Cookies.set(Cookies.SESSION, "", Duration.ZERO, people.secure(request)));
  }

  private static HttpAnswer failed(String why) {
    Issue issue =
        Issue.error(
            IssueCode.LOGIN_FAILED,
            "",
            "The login was not taken: "
                + why
                + "; expected one that is begun anew at "
                + LOGIN
                + ".");
    return DenialAnswers.at(LOGIN, new Denial(401, issue, Optional.empty()));
  }

  private static HttpAnswer seeOther(String address) {
    return text(303, "See " + address + "\n").with("Location", address);
  }

  private static HttpAnswer text(int status, String text) {
    return new HttpAnswer(
        status,
        Map.of("Content-Type", "text/plain; charset=utf-8", "Cache-Control", "no-store"),
        Buffer.buffer(text));
  }
}
