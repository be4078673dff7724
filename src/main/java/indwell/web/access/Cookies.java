package indwell.web.access;

import io.vertx.core.http.Cookie;
import io.vertx.core.http.HttpServerRequest;
import java.time.Duration;
import java.util.Optional;

/** Cookies that say who is logged in. No script sees them, and no other site's form sends them. */
final class Cookies {
  static final String SESSION = "indwell-session";
  static final String LOGIN = "indwell-login";

  private Cookies() {}

  /** The value of a cookie; none when it stands twice, for then somebody else may have set one. */
  static Optional<String> of(HttpServerRequest request, String name) {
    return request.cookies(name).size() == 1
        ? request.cookies(name).stream().map(Cookie::getValue).findFirst()
        : Optional.empty();
  }

  /**
   * Sets one. {@code Lax}, because the way back from the issuer begins at another site.
   *
   * @param secure whether the service is asked by https
   */
  static String set(String name, String value, Duration keep, boolean secure) {
    return name
        + "="
        + value
        + "; Path=/; Max-Age="
        + keep.toSeconds()
        + "; HttpOnly; SameSite=Lax"
        + (secure ? "; Secure" : "");
  }
}
