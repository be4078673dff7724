package indwell.intake;

import java.util.regex.Pattern;

/**
 * Recognises absolute URIs by RFC 3986: a scheme, a colon and at least one more character, all out
 * of its ASCII alphabet.
 */
final class AbsoluteUri {
  /** Possessive throughout, so that no text makes it try twice. */
  private static final Pattern SHAPE =
      Pattern.compile(
          "[A-Za-z][A-Za-z0-9+.-]*+:"
              + "(?:[A-Za-z0-9._~:/?#\\[\\]@!$&'()*+,;=-]|%[0-9A-Fa-f]{2})++");

  /**
   * RFC 4122 section 3 and RFC 3061: what follows these prefixes has a shape of its own. FHIR R4
   * (data type {@code uri}) asks for lower case in a UUID.
   */
  private static final Pattern UUID =
      Pattern.compile("urn:uuid:[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}");

  private static final Pattern OID = Pattern.compile("urn:oid:[0-2](?:\\.(?:0|[1-9][0-9]*+))++");

  private AbsoluteUri() {}

  static boolean matches(String text) {
    return SHAPE.matcher(text).matches() && hasShapeOfItsPrefix(text);
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
