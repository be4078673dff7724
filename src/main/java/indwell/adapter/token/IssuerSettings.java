package indwell.adapter.token;

import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * Which tokens are believed.
 *
 * @param issuer exactly as tokens have it in {@code iss}
 * @param audiences any of which a token has to name in {@code aud}
 * @param keys address of the issuer's keys; asked of the issuer when it is not given
 * @param rolesClaim where a token has the roles of a person, with dots between names
 */
public record IssuerSettings(
    String issuer, Set<String> audiences, Optional<String> keys, List<String> rolesClaim) {
  public IssuerSettings {
    audiences = Set.copyOf(audiences);
    rolesClaim = List.copyOf(rolesClaim);
  }
}
