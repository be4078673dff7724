package indwell.web.access;

import indwell.access.Allowance;
import indwell.access.Issuer;
import indwell.access.Logins;
import indwell.access.Need;
import indwell.access.Role;
import indwell.access.Sessions;
import indwell.access.Tokens;
import io.vertx.core.http.HttpServerRequest;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Whether anybody is asked who they are. */
public sealed interface AccessMode {
  /** What every page for people needs at least. */
  List<Need> PEOPLE = List.of(Need.of(Set.of(Role.values())));

  /** Nobody is: only this machine is served. */
  record Development() implements AccessMode {}

  /**
   * Everybody is: what is not allowed is denied.
   *
   * @param allowance how often a client may ask
   * @param people empty when nobody logs in, and no page is shown
   */
  record Guarded(Tokens tokens, Issuer issuer, Allowance allowance, Optional<People> people)
      implements AccessMode {}

  /**
   * The people who log in.
   *
   * @param publicUrl scheme, host and port that browsers know this service by; those of the request
   *     when it is not given
   */
  record People(Logins logins, Sessions sessions, Optional<String> publicUrl) {
    /** Scheme, host and port that the browser knows this service by. */
    String base(HttpServerRequest request) {
      return publicUrl.orElseGet(() -> request.scheme() + "://" + request.authority());
    }

    /** Whether cookies are for https alone. */
    boolean secure(HttpServerRequest request) {
      return base(request).startsWith("https:");
    }
  }
}
