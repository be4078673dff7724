package indwell.web;

import java.util.Locale;
import java.util.Optional;
import java.util.regex.Pattern;

/**
 * A media type without its parameters, in lower case (RFC 9110, section 8.3.1).
 *
 * @param type {@code application}
 * @param subtype {@code fhir+json}
 */
public record MediaType(String type, String subtype) {
  private static final Pattern TOKEN = Pattern.compile("[A-Za-z0-9!#$%&'*+.^_`|~-]+");

  /** Reads a {@code Content-Type} or one range of an {@code Accept} header. */
  public static Optional<MediaType> parse(String header) {
    int semicolon = header.indexOf(';');
    String bare = (semicolon < 0 ? header : header.substring(0, semicolon)).trim();
    int slash = bare.indexOf('/');
    if (slash < 0) {
      return Optional.empty();
    }
    String type = bare.substring(0, slash);
    String subtype = bare.substring(slash + 1);
    return TOKEN.matcher(type).matches() && TOKEN.matcher(subtype).matches()
        ? Optional.of(
            new MediaType(type.toLowerCase(Locale.ROOT), subtype.toLowerCase(Locale.ROOT)))
        : Optional.empty();
  }

  /** Whether this, read as a range of an {@code Accept} header, takes that type. */
  public boolean takes(MediaType other) {
    return type.equals("*")
        ? subtype.equals("*")
        : type.equals(other.type) && (subtype.equals("*") || subtype.equals(other.subtype));
  }

  /** {@code type/subtype}. */
  @Override
  public String toString() {
    return type + "/" + subtype;
  }
}
