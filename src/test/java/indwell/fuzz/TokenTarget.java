package indwell.fuzz;

import indwell.access.Caller;
import indwell.adapter.token.Discovery;
import indwell.adapter.token.JwtTokens;
import indwell.web.access.TestIssuer;
import java.nio.charset.StandardCharsets;
import java.time.Instant;

/** Bearer tokens, which nobody has signed: nobody is believed, and nothing fails. */
final class TokenTarget implements Target {
  private static final Instant NOW = Instant.parse("2026-03-10T12:00:00Z");

  private final TestIssuer issuer = new TestIssuer();
  private final JwtTokens tokens =
      new JwtTokens(issuer.settings(), new Discovery(issuer.settings()));

  @Override
  public void take(byte[] input) {
    Caller caller = tokens.look(new String(input, StandardCharsets.UTF_8), NOW).caller();
    Oracle.require(caller instanceof Caller.Nobody, "Somebody is believed: " + caller);
  }
}
