package indwell.web.page;

import indwell.web.HttpAnswer;
import io.vertx.core.buffer.Buffer;
import java.util.Map;

/** Answers with the headers that every page has. */
public final class PageAnswers {
  private static final String HTML = "text/html; charset=utf-8";

  /**
   * The pages are about patients: no cache keeps them, no script runs on them, nobody frames them,
   * and their addresses are told to nobody else. The origin has to be told to this service itself,
   * or a form could not say where it comes from.
   */
  static final Map<String, String> HEADERS =
      Map.of(
          "Cache-Control", "no-store",
          "Content-Security-Policy",
              "default-src 'none'; style-src 'self'; base-uri 'none'; form-action 'self';"
                  + " frame-ancestors 'none'",
          "Cross-Origin-Opener-Policy", "same-origin",
          "Cross-Origin-Resource-Policy", "same-origin",
          "Permissions-Policy", "camera=(), geolocation=(), microphone=()",
          "Referrer-Policy", "same-origin",
          "X-Content-Type-Options", "nosniff",
          "X-Frame-Options", "DENY");

  private PageAnswers() {}

  /** A page. */
  public static HttpAnswer html(int status, String html) {
    return of(status, HTML, Buffer.buffer(html));
  }

  /** Sends the reader on to an address of this service, to be fetched with GET. */
  public static HttpAnswer seeOther(String address) {
    return of(303, "text/plain; charset=utf-8", Buffer.buffer("See " + address + "\n"))
        .with("Location", address);
  }

  /** Anything else with the headers of a page. */
  public static HttpAnswer of(int status, String mediaType, Buffer body) {
    return new HttpAnswer(status, HEADERS, body).with("Content-Type", mediaType);
  }
}
