package indwell.adapter.upstream;

import indwell.port.UpstreamAnswer;

/** There is no token to be had now; says what the request would have been answered. */
final class TokenUnavailable extends RuntimeException {
  private static final long serialVersionUID = 1L;

  private final transient UpstreamAnswer answer;

  TokenUnavailable(UpstreamAnswer answer) {
    super("No token is to be had: " + answer.reason());
    this.answer = answer;
  }

  UpstreamAnswer answer() {
    return answer;
  }
}
