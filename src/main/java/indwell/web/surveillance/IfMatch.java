package indwell.web.surveillance;

import java.util.OptionalInt;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The {@code If-Match} of a request: a change is made only to a version that the caller has seen
 * (RFC 9110, section 13.1.1; weak tags are compared as FHIR does, by their number).
 */
final class IfMatch {
  private static final Pattern TAG = Pattern.compile("\\s*(?:W/)?\"(\\d{1,9})\"\\s*");

  private IfMatch() {}

  /** Whether the newest version is one of those named; {@code *} names any that is there. */
  static boolean names(String header, OptionalInt newest) {
    if (newest.isEmpty()) {
      return false;
    }
    if (header.trim().equals("*")) {
      return true;
    }
    for (String tag : header.split(",", -1)) {
      Matcher matcher = TAG.matcher(tag);
      if (matcher.matches() && Integer.parseInt(matcher.group(1)) == newest.getAsInt()) {
        return true;
      }
    }
    return false;
  }

  /** The tag of a version. */
  static String tag(int version) {
    return "W/\"" + version + "\"";
  }
}
