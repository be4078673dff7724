package indwell.boot.traces;

import java.net.URI;
import java.net.URISyntaxException;
import java.net.URLDecoder;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;

/**
 * Where spans go, and which of them.
 *
 * @param endpoint takes OTLP over HTTP, protobuf
 * @param ratio of the traces that begin here, 0 to 1
 * @param headers to send along; they may be credentials
 */
public record TraceSettings(URI endpoint, double ratio, Map<String, String> headers) {
  private static final Set<String> SCHEMES = Set.of("http", "https");

  /** RFC 9110, section 5.6.2: a token. */
  private static final Pattern NAME = Pattern.compile("[!#$%&'*+.^_`|~0-9A-Za-z-]+");

  private static final Pattern VALUE = Pattern.compile("[\\x20-\\x7E]*");

  public TraceSettings {
    headers = Map.copyOf(headers);
  }

  /**
   * Reads the settings; empty without an endpoint.
   *
   * @throws IllegalArgumentException if one of them cannot be used; the sentence names it and does
   *     not repeat what may be a credential
   */
  public static Optional<TraceSettings> read(
      Optional<String> endpoint, double ratio, Optional<String> headers) {
    if (!(ratio >= 0 && ratio <= 1)) {
      throw unusable("INDWELL_TRACES_RATIO", "a number from 0 to 1");
    }
    return endpoint.map(url -> new TraceSettings(address(url), ratio, headers(headers.orElse(""))));
  }

  private static URI address(String url) {
    try {
      URI uri = new URI(url);
      if (uri.getHost() != null
          && uri.getScheme() != null
          && SCHEMES.contains(uri.getScheme().toLowerCase(Locale.ROOT))
          && uri.getRawUserInfo() == null
          && uri.getRawFragment() == null) {
        return uri;
      }
    } catch (URISyntaxException unreadable) {
      // Said below; the text is not repeated, it may hold a password.
    }
    throw unusable(
        "INDWELL_TRACES_ENDPOINT",
        "an address such as http://collector:4318/v1/traces, without user and fragment");
  }

  /** Pairs as OpenTelemetry's OTEL_EXPORTER_OTLP_HEADERS has them, values percent-encoded. */
  private static Map<String, String> headers(String pairs) {
    Map<String, String> headers = new LinkedHashMap<>();
    if (pairs.isBlank()) {
      return headers;
    }
    for (String pair : pairs.split(",", -1)) {
      int equals = pair.indexOf('=');
      String name = equals < 0 ? "" : pair.substring(0, equals).strip();
      String value = decoded(pair.substring(equals + 1).strip());
      if (!NAME.matcher(name).matches() || !VALUE.matcher(value).matches()) {
        throw unusable("INDWELL_TRACES_HEADERS", "name=value, and a comma between two");
      }
      headers.put(name, value);
    }
    return headers;
  }

  /** A plus sign stands for itself. */
  private static String decoded(String value) {
    try {
      return URLDecoder.decode(value.replace("+", "%2B"), StandardCharsets.UTF_8);
    } catch (IllegalArgumentException unreadable) {
      throw unusable("INDWELL_TRACES_HEADERS", "values in percent-encoding");
    }
  }

  private static IllegalArgumentException unusable(String setting, String expected) {
    return new IllegalArgumentException(setting + " cannot be used; expected " + expected + ".");
  }

  /** Without the headers. */
  @Override
  public String toString() {
    return "TraceSettings[endpoint=" + endpoint + ", ratio=" + ratio + "]";
  }
}
