package indwell.web.access;

import indwell.access.Doubt;
import java.util.List;
import java.util.Optional;

/**
 * The bearer token of a request, from its header alone: one in an address ends up in logs.
 *
 * @param token empty where the doubt says why
 * @param doubt there is one token if this is empty
 */
record Bearer(String token, Optional<Doubt> doubt) {
  private static final String SCHEME = "bearer ";

  /**
   * Reads the values of header {@code Authorization} (RFC 6750, section 2.1; the scheme's case says
   * nothing).
   */
  static Bearer of(List<String> headers) {
    if (headers.size() > 1) {
      return none(Doubt.TWO_TOKENS);
    }
    return headers.stream()
        .filter(one -> one.regionMatches(true, 0, SCHEME, 0, SCHEME.length()))
        .map(one -> one.substring(SCHEME.length()).trim())
        .filter(token -> !token.isEmpty())
        .findFirst()
        .map(token -> new Bearer(token, Optional.empty()))
        .orElseGet(() -> none(Doubt.NO_TOKEN));
  }

  private static Bearer none(Doubt doubt) {
    return new Bearer("", Optional.of(doubt));
  }
}
