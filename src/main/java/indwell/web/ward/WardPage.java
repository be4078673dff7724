package indwell.web.ward;

import indwell.domain.event.Ward;
import indwell.port.StoreUnavailable;
import indwell.usecase.Facility;
import indwell.usecase.WardBoard;
import indwell.web.Exchange;
import indwell.web.FaultLog;
import indwell.web.HttpAnswer;
import indwell.web.Workers;
import io.quarkus.qute.CheckedTemplate;
import io.quarkus.qute.TemplateInstance;
import io.quarkus.runtime.ShutdownEvent;
import io.vertx.core.Vertx;
import io.vertx.core.buffer.Buffer;
import io.vertx.core.http.HttpServerRequest;
import io.vertx.ext.web.Router;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import jakarta.inject.Inject;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.time.Clock;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.RejectedExecutionException;
import java.util.function.Supplier;

/** The page that a ward reads: who has a catheter, since when, why, and what is due. */
@ApplicationScoped
public class WardPage {
  private static final String STYLE = "/indwell/web/ward/board.css";
  private static final String HTML = "text/html; charset=utf-8";
  private static final long STOP_MILLIS = 2_000;

  /** The page is about patients: no cache keeps it, no script runs on it, nobody frames it. */
  private static final Map<String, String> HEADERS =
      Map.of(
          "Cache-Control", "no-store",
          "Content-Security-Policy",
              "default-src 'none'; style-src 'self'; base-uri 'none'; form-action 'none';"
                  + " frame-ancestors 'none'",
          "Referrer-Policy", "no-referrer",
          "X-Content-Type-Options", "nosniff",
          "X-Frame-Options", "DENY");

  private final Vertx vertx;
  private final Clock clock;
  private final WardBoard board;
  private final BoardViews views;
  private final HttpAnswer style;
  private final Workers workers = new Workers("indwell-page", 2);

  /** The templates of this page; they escape every value. */
  @CheckedTemplate
  static class Templates {
    private Templates() {}

    static native TemplateInstance board(BoardView view);
  }

  @Inject
  WardPage(Vertx vertx, Clock clock, WardBoard board, Facility facility) {
    this.vertx = vertx;
    this.clock = clock;
    this.board = board;
    this.views = new BoardViews(facility.calendar());
    this.style = page(200, "text/css; charset=utf-8", style());
  }

  private static Buffer style() {
    try (InputStream in = WardPage.class.getResourceAsStream(STYLE)) {
      if (in == null) {
        throw new IllegalStateException("The program lacks its file " + STYLE);
      }
      return Buffer.buffer(in.readAllBytes());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  void register(@Observes Router router) {
    router.route("/").handler(context -> board(context.request()));
    router.route("/ward.css").handler(context -> answer(context.request(), () -> style));
  }

  void stop(@Observes ShutdownEvent event) {
    workers.stop(STOP_MILLIS);
  }

  private void board(HttpServerRequest request) {
    try {
      Optional<Ward> ward =
          Optional.ofNullable(request.getParam("ward"))
              .filter(code -> !code.isBlank())
              .map(Ward::new);
      answer(request, () -> html(ward));
    } catch (IllegalArgumentException undecodable) {
      answer(request, () -> text(400, "The address cannot be decoded."));
    }
  }

  private void answer(HttpServerRequest request, Supplier<HttpAnswer> content) {
    Exchange exchange = new Exchange(vertx, request);
    String method = request.method().name();
    if (!method.equals("GET") && !method.equals("HEAD")) {
      exchange.send(text(405, "This page can be read only.").with("Allow", "GET, HEAD"));
      return;
    }
    try {
      workers.execute(() -> exchange.sendFromWorker(guarded(content)));
    } catch (RejectedExecutionException e) {
      exchange.send(text(503, "The service is stopping.").with("Retry-After", "5"));
    }
  }

  private static HttpAnswer guarded(Supplier<HttpAnswer> content) {
    try {
      return content.get();
    } catch (StoreUnavailable away) {
      FaultLog.write("the ward page, the store being away", away);
      return text(503, "The record cannot be read now. Please try again in a moment.")
          .with("Retry-After", "5");
    } catch (RuntimeException fault) {
      long number = FaultLog.write("the ward page", fault);
      return text(500, "The page could not be made; the log has this as fault " + number + ".");
    }
  }

  private HttpAnswer html(Optional<Ward> ward) {
    BoardView view = views.view(board.at(clock.instant()), ward);
    return page(200, HTML, Buffer.buffer(Templates.board(view).render()));
  }

  private static HttpAnswer text(int status, String sentence) {
    return page(status, "text/plain; charset=utf-8", Buffer.buffer(sentence + "\n"));
  }

  private static HttpAnswer page(int status, String mediaType, Buffer body) {
    return new HttpAnswer(status, HEADERS, body).with("Content-Type", mediaType);
  }
}
