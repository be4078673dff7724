package indwell.adapter.validation;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.hl7.fhir.utilities.validation.ValidationMessage;

/**
 * Two rules of thumb of the library that call sound identifiers wrong. A hospital may name its
 * identifiers by any absolute URI, so what a caller was right to send must not fail here.
 *
 * <p>Source: FHIR R4, data types {@code Identifier} ("always an absolute URI"), {@code uri} and
 * {@code oid}; RFC 3986 section 4.3.
 */
final class Overstrict {
  /** The library knows only the schemes http, https and urn, in lower case. */
  private static final String NOT_ABSOLUTE =
      "Identifier.system must be an absolute reference, not a local reference";

  /** The library takes every short OID for a slip. */
  private static final Pattern SHORT_OID = Pattern.compile("OIDs must be valid \\((.*)\\)");

  /** Possessive, since a group that may be given back is matched by recursion. */
  private static final Pattern OID = Pattern.compile("[0-2](?:\\.(?:0|[1-9][0-9]*+))++");

  private static final Pattern SYSTEM = Pattern.compile("\"system\"\\s*:\\s*\"([^\"]*)\"");
  private static final Pattern ABSOLUTE = Pattern.compile("[A-Za-z][A-Za-z0-9+.-]*:[^\\s\\\\]+");

  private Overstrict() {}

  /** The messages without those that the document disproves. */
  static List<ValidationMessage> without(List<ValidationMessage> messages, byte[] json) {
    return messages.stream().filter(one -> !isDisproved(one.getMessage(), json)).toList();
  }

  private static boolean isDisproved(String message, byte[] json) {
    if (message.equals(NOT_ABSOLUTE)) {
      return everySystemIsAbsolute(new String(json, StandardCharsets.UTF_8));
    }
    Matcher oid = SHORT_OID.matcher(message);
    return oid.matches() && OID.matcher(oid.group(1)).matches();
  }

  /** Every one in the document, since the finding does not say which one it means. */
  private static boolean everySystemIsAbsolute(String json) {
    Matcher system = SYSTEM.matcher(json);
    while (system.find()) {
      if (!ABSOLUTE.matcher(system.group(1)).matches()) {
        return false;
      }
    }
    return true;
  }
}
