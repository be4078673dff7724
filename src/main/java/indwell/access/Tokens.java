package indwell.access;

import java.time.Instant;
import java.util.Optional;

/** Says who has a bearer token. Implementations are safe for use by many threads. */
public interface Tokens {

  /**
   * Who has a token.
   *
   * @param caller somebody known, or nobody with the doubt
   * @param until when that has to be asked again at the latest
   */
  record Holder(Caller caller, Instant until) {}

  /** Who has it, if that was found out a moment ago; never waits. */
  Optional<Caller> remembered(String token, Instant now);

  /** Who has it; may wait for the keys of the issuer. */
  Caller of(String token, Instant now);
}
