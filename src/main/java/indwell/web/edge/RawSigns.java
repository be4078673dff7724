package indwell.web.edge;

import java.util.Locale;

/**
 * Signs that browsers and other clients send in a query as they are, although RFC 3986 has no place
 * for them: without this, {@code identifier=system|value} would be no address for the framework,
 * nor would {@code \,}, by which FHIR puts a comma into a value.
 *
 * <p>Source: https://url.spec.whatwg.org/#query-percent-encode-set, which leaves them alone;
 * https://hl7.org/fhir/R4/search.html#escaping
 */
final class RawSigns {
  private static final String SIGNS = "|\\^`{}";

  private RawSigns() {}

  /** The same address, such signs of its query percent-encoded. */
  static String encoded(String address) {
    int query = address.indexOf('?') + 1;
    if (query == 0 || !hasSigns(address, query)) {
      return address;
    }
    StringBuilder encoded = new StringBuilder(address.substring(0, query));
    address
        .substring(query)
        .chars()
        .forEach(
            sign -> {
              if (SIGNS.indexOf(sign) < 0) {
                encoded.append((char) sign);
              } else {
                encoded.append('%').append(Integer.toHexString(sign).toUpperCase(Locale.ROOT));
              }
            });
    return encoded.toString();
  }

  private static boolean hasSigns(String address, int from) {
    return SIGNS.chars().anyMatch(sign -> address.indexOf(sign, from) >= 0);
  }
}
