package indwell.access;

import java.util.Optional;

/** What the issuer says of itself. */
public interface Issuer {
  /** Its endpoints; empty while it cannot be asked. May wait for it. */
  Optional<Endpoints> endpoints();

  /**
   * Where it is asked for what.
   *
   * @param issuer its name, as tokens have it
   * @param authorization where a person logs in
   * @param token where tokens are given
   * @param keys where its keys are
   */
  record Endpoints(String issuer, Optional<String> authorization, String token, String keys) {}
}
