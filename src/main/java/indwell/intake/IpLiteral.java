package indwell.intake;

import java.util.regex.Pattern;

/** Recognises what stands between brackets for a host: an address of IPv6, or of one to come. */
final class IpLiteral {
  private static final int GROUPS = 8;
  private static final Pattern FUTURE =
      Pattern.compile("[vV][0-9A-Fa-f]++\\.[A-Za-z0-9._~!$&'()*+,;=:-]++");
  private static final Pattern GROUP = Pattern.compile("[0-9A-Fa-f]{1,4}");
  private static final String OCTET = "(?:[0-9]|[1-9][0-9]|1[0-9]{2}|2[0-4][0-9]|25[0-5])";
  private static final Pattern IPV4 = Pattern.compile(OCTET + "(?:\\." + OCTET + "){3}");

  private IpLiteral() {}

  /** Whether the text is an IPv6address or an IPvFuture of RFC 3986, section 3.2.2. */
  static boolean matches(String text) {
    if (FUTURE.matcher(text).matches()) {
      return true;
    }
    int gap = text.indexOf("::");
    if (gap < 0) {
      return groups(text, true) == GROUPS;
    }
    int before = groups(text.substring(0, gap), false);
    int after = groups(text.substring(gap + 2), true);
    return before >= 0 && after >= 0 && before + after < GROUPS;
  }

  /** How many groups there are, the last two perhaps as an address of IPv4; -1 for other text. */
  private static int groups(String text, boolean mayEndInIpv4) {
    if (text.isEmpty()) {
      return 0;
    }
    String[] parts = text.split(":", -1);
    int groups = parts.length;
    for (int i = 0; i < parts.length; i++) {
      boolean isLast = i == parts.length - 1;
      if (isLast && mayEndInIpv4 && IPV4.matcher(parts[i]).matches()) {
        groups++;
      } else if (!GROUP.matcher(parts[i]).matches()) {
        return -1;
      }
    }
    return groups;
  }
}
