package indwell.web.access;

import java.net.URI;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.stream.Collectors;

/** The origins (RFC 6454) whose pages may ask by a browser, each by its name: there is no "all". */
public final class ListedOrigins {
  private final Set<String> origins;

  private ListedOrigins(Set<String> origins) {
    this.origins = origins;
  }

  /**
   * Those origins.
   *
   * @throws IllegalArgumentException naming what is no scheme, host and port
   */
  public static ListedOrigins of(List<String> origins) {
    return new ListedOrigins(
        origins.stream().map(ListedOrigins::origin).collect(Collectors.toUnmodifiableSet()));
  }

  private static String origin(String text) {
    try {
      URI address = URI.create(text);
      String scheme = address.getScheme();
      boolean web = "https".equals(scheme) || "http".equals(scheme);
      String canonical = text.toLowerCase(Locale.ROOT);
      if (web
          && address.getHost() != null
          && canonical.equals(scheme + "://" + address.getRawAuthority().toLowerCase(Locale.ROOT))
          && address.getRawUserInfo() == null) {
        return canonical;
      }
    } catch (IllegalArgumentException unreadable) {
      // Told with the others.
    }
    throw new IllegalArgumentException(
        "Setting indwell.cors.origins has "
            + text
            + "; expected scheme, host and port as browsers send them, such as"
            + " https://ward.example, and none for all.");
  }

  /** Whether none is listed. */
  boolean isEmpty() {
    return origins.isEmpty();
  }

  /** Whether that origin is listed, as a browser writes it. */
  boolean has(String origin) {
    return origins.contains(origin);
  }
}
