package indwell.web.access;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.web.Exchange;
import io.vertx.core.Vertx;
import io.vertx.core.http.HttpServerRequest;
import io.vertx.core.http.HttpServerResponse;
import io.vertx.ext.web.Router;
import io.vertx.ext.web.RoutingContext;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import jakarta.inject.Inject;
import java.util.Optional;
import java.util.Set;

/**
 * Which pages of other sites a browser lets ask here (Fetch, section 3.3): those of listed origins,
 * by a token that they send themselves; never with cookies, and never by a wildcard. From all
 * others nothing is written, for a browser sends some requests first and asks afterwards whether
 * the answer may be read.
 *
 * <p>The forms of the pages look after themselves ({@code SameOrigin}).
 */
@ApplicationScoped
public class CrossOrigin {
  /** Before the gate: a browser sends no token when it asks whether it may send one. */
  private static final int FIRST = -1_000_001;

  private static final Set<String> READING = Set.of("GET", "HEAD", "OPTIONS");
  private static final String METHODS = "GET, HEAD, POST, PUT, DELETE";
  private static final String REQUEST_HEADERS =
      "Authorization, Content-Type, Accept, Prefer, If-Match, If-None-Match, If-Modified-Since,"
          + " If-None-Exist, traceparent, tracestate";
  private static final String ANSWER_HEADERS =
      "Location, Content-Location, ETag, Last-Modified, Retry-After, X-Progress, WWW-Authenticate,"
          + " Expires, Preference-Applied";

  /** As long as browsers remember it at most. */
  private static final String REMEMBERED_SECONDS = "7200";

  private final Vertx vertx;
  private final ListedOrigins origins;

  /** Lets pages of those origins ask. */
  @Inject
  public CrossOrigin(Vertx vertx, ListedOrigins origins) {
    this.vertx = vertx;
    this.origins = origins;
  }

  /** Puts itself before the gate. */
  public void register(@Observes Router router) {
    router.route().order(FIRST).handler(this::handle);
  }

  private void handle(RoutingContext context) {
    HttpServerRequest request = context.request();
    Optional<String> origin = Optional.ofNullable(request.getHeader("Origin"));
    if (!origins.isEmpty()) {
      context.response().putHeader("Vary", "Origin");
    }
    if (origin.isEmpty() || isOwn(request, origin.get())) {
      context.next();
    } else if (origins.has(origin.get()) && forPrograms(request)) {
      allow(context, origin.get());
    } else if (forPrograms(request) && !READING.contains(request.method().name())) {
      Denial denial = notListed(origin.get());
      Visit.of(context).refused(denial.issue().code());
      new Exchange(vertx, request, Visit.of(context))
          .send(DenialAnswers.at(request.path(), denial));
    } else {
      // Without a header of permission the browser keeps the answer from the page.
      context.next();
    }
  }

  private static boolean isOwn(HttpServerRequest request, String origin) {
    return origin.equalsIgnoreCase(request.scheme() + "://" + request.authority());
  }

  /** Pages for people are for nobody else's pages. */
  private static boolean forPrograms(HttpServerRequest request) {
    Area area = Area.place(request.path());
    return area != Area.PAGES && area != Area.OPEN;
  }

  private static void allow(RoutingContext context, String origin) {
    HttpServerResponse response = context.response();
    response.putHeader("Access-Control-Allow-Origin", origin);
    boolean preflight =
        context.request().method().name().equals("OPTIONS")
            && context.request().getHeader("Access-Control-Request-Method") != null;
    if (preflight) {
      response
          .setStatusCode(204)
          .putHeader("Access-Control-Allow-Methods", METHODS)
          .putHeader("Access-Control-Allow-Headers", REQUEST_HEADERS)
          .putHeader("Access-Control-Max-Age", REMEMBERED_SECONDS)
          .end();
    } else {
      response.putHeader("Access-Control-Expose-Headers", ANSWER_HEADERS);
      context.next();
    }
  }

  private static Denial notListed(String origin) {
    return new Denial(
        403,
        Issue.error(
            IssueCode.ORIGIN_NOT_LISTED,
            "",
            "A page of "
                + Shortened.quoted(origin)
                + " may not write here; expected an origin that is listed in"
                + " INDWELL_CORS_ORIGINS."),
        Optional.empty());
  }
}
