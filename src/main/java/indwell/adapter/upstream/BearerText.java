package indwell.adapter.upstream;

import java.util.regex.Pattern;

/** What a bearer token may look like: RFC 6750, section 2.1, b64token. */
final class BearerText {
  private static final Pattern TOKEN = Pattern.compile("[A-Za-z0-9._~+/-]+=*");

  private BearerText() {}

  static boolean usable(String token) {
    return TOKEN.matcher(token).matches();
  }
}
