package indwell.intake;

import java.util.Locale;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Recognises absolute URIs by the grammar of RFC 3986: a scheme, a colon and at least one more
 * character. Of http and https it wants a host and a port that can be one (RFC 9110, section 4.2).
 */
final class AbsoluteUri {
  private static final String SIGNS = "A-Za-z0-9._~!$&'()*+,;=\\-";
  private static final String IN_NAME = signs("");
  private static final String IN_USER = signs(":");
  private static final String IN_PATH = signs(":@/");
  private static final String IN_QUERY = signs(":@/?");

  private static final Pattern SHAPE =
      Pattern.compile(
          "(?<scheme>[A-Za-z][A-Za-z0-9+.-]*+):(?=.)(?://(?<authority>[^/?#]*+))?+%s(?:\\?%s)?+(?:#%s)?+"
              .formatted(IN_PATH, IN_QUERY, IN_QUERY));

  private static final Pattern AUTHORITY =
      Pattern.compile(
          "(?:%s@)?+(?<host>\\[(?<literal>[^\\[\\]]*+)]|%s)(?::(?<port>[0-9]*+))?+"
              .formatted(IN_USER, IN_NAME));

  private static final Set<String> OF_HOSTS = Set.of("http", "https");
  private static final int HIGHEST_PORT = 65_535;

  /**
   * RFC 4122 section 3 and RFC 3061: what follows these prefixes has a shape of its own. FHIR R4
   * (data type {@code uri}) asks for lower case in a UUID.
   */
  private static final Pattern UUID =
      Pattern.compile("urn:uuid:[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}");

  private static final Pattern OID = Pattern.compile("urn:oid:[0-2](?:\\.(?:0|[1-9][0-9]*+))++");

  private AbsoluteUri() {}

  /** Any number of signs and escaped ones; possessive, so that no text makes it try twice. */
  private static String signs(String further) {
    return "(?:[" + SIGNS + further + "]|%[0-9A-Fa-f]{2})*+";
  }

  static boolean matches(String text) {
    Matcher uri = SHAPE.matcher(text);
    return uri.matches() && hasSoundAuthority(uri) && hasShapeOfItsPrefix(text);
  }

  private static boolean hasSoundAuthority(Matcher uri) {
    boolean needsHost = OF_HOSTS.contains(lowerCase(uri.group("scheme")));
    if (uri.group("authority") == null) {
      return !needsHost;
    }
    Matcher authority = AUTHORITY.matcher(uri.group("authority"));
    return authority.matches()
        && (authority.group("literal") == null || IpLiteral.matches(authority.group("literal")))
        && !(needsHost && authority.group("host").isEmpty())
        && !(needsHost && !isPort(authority.group("port")));
  }

  private static String lowerCase(String scheme) {
    return scheme.toLowerCase(Locale.ROOT);
  }

  /** None, or an empty one, is the usual one of the scheme. */
  private static boolean isPort(String port) {
    if (port == null) {
      return true;
    }
    String number = port.replaceFirst("^0+", "");
    return number.length() <= 5 && (number.isEmpty() || Integer.parseInt(number) <= HIGHEST_PORT);
  }

  private static boolean hasShapeOfItsPrefix(String text) {
    // FHIR writes both below urn:.
    if (text.startsWith("oid:") || text.startsWith("uuid:")) {
      return false;
    }
    if (text.startsWith("urn:uuid:")) {
      return UUID.matcher(text).matches();
    }
    return !text.startsWith("urn:oid:") || OID.matcher(text).matches();
  }
}
