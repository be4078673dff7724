package indwell.adapter.upstream;

import java.net.InetAddress;
import java.net.URI;
import java.net.URISyntaxException;
import java.net.UnknownHostException;
import java.util.Locale;
import java.util.Set;

/**
 * Where a server is, without a slash at the end. Plain HTTP is for this machine alone: elsewhere it
 * would show records of patients, and credentials, to whoever listens.
 */
public record UpstreamAddress(URI base) {
  private static final Set<String> SCHEMES = Set.of("http", "https");

  /**
   * Reads an address.
   *
   * @throws IllegalArgumentException if it is no absolute address of HTTP, carries a user, query or
   *     fragment, or is plain HTTP to another machine; the sentence names the setting
   */
  public static UpstreamAddress of(String text, String setting) {
    try {
      URI uri = new URI(text.endsWith("/") ? text.substring(0, text.length() - 1) : text);
      boolean plain =
          uri.getHost() != null
              && uri.getScheme() != null
              && SCHEMES.contains(uri.getScheme().toLowerCase(Locale.ROOT))
              && uri.getRawUserInfo() == null
              && uri.getRawQuery() == null
              && uri.getRawFragment() == null;
      if (plain && (uri.getScheme().equalsIgnoreCase("https") || loopback(uri.getHost()))) {
        return new UpstreamAddress(uri);
      }
    } catch (URISyntaxException unreadable) {
      // Said below; the text is not repeated, it may hold a password.
    }
    throw new IllegalArgumentException(
        setting
            + " is not an address to publish to; expected https://host/path without user, query"
            + " and fragment (http:// to this machine alone).");
  }

  /** Whether the address is at the same server: scheme, host and port. */
  public boolean sameOrigin(URI other) {
    return other.getHost() != null
        && other.getScheme() != null
        && other.getHost().equalsIgnoreCase(base.getHost())
        && other.getScheme().equalsIgnoreCase(base.getScheme())
        && port(other) == port(base);
  }

  private static int port(URI uri) {
    int standard = uri.getScheme().equalsIgnoreCase("https") ? 443 : 80;
    return uri.getPort() < 0 ? standard : uri.getPort();
  }

  private static boolean loopback(String host) {
    try {
      return InetAddress.getByName(host).isLoopbackAddress();
    } catch (UnknownHostException unknown) {
      return false;
    }
  }

  @Override
  public String toString() {
    return base.toString();
  }
}
