package indwell.access;

import java.time.Instant;
import java.util.Optional;

/** Lets a person log in at the issuer. May wait for the issuer. */
public interface Logins {

  /**
   * One login under way: three secrets of this service that nobody can guess.
   *
   * @param state comes back with the answer, so that it is one to this login
   * @param nonce comes back within the issuer's word, so that it is not one of another login
   * @param verifier shows the issuer that who fetches its word is who asked for it (PKCE, RFC 7636)
   */
  record Attempt(String state, String nonce, String verifier) {}

  /**
   * Where the person is sent to log in; empty while the issuer cannot be asked.
   *
   * @param redirect where the issuer sends the person back to
   */
  Optional<String> address(Attempt attempt, String redirect);

  /** Who logged in, by the code that came back; empty when the issuer does not vouch for it. */
  Optional<Caller.Known> finish(String code, Attempt attempt, String redirect, Instant now);
}
