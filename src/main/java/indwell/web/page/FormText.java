package indwell.web.page;

import indwell.domain.refusal.IssueCode;
import java.net.URLDecoder;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** Names and values as a form or the query of an address carries them. */
public final class FormText {
  private FormText() {}

  /** Reads names and values; a name may stand more than once. */
  static Map<String, List<String>> read(String text) {
    Map<String, List<String>> fields = new LinkedHashMap<>();
    for (String pair : text.split("&", -1)) {
      if (!pair.isEmpty()) {
        int equals = pair.indexOf('=');
        String name = decode(equals < 0 ? pair : pair.substring(0, equals));
        String value = equals < 0 ? "" : decode(pair.substring(equals + 1));
        fields.computeIfAbsent(name, any -> new ArrayList<>()).add(value);
      }
    }
    return fields;
  }

  private static String decode(String text) {
    try {
      String decoded = URLDecoder.decode(text, StandardCharsets.UTF_8);
      // Nothing that is stored can hold a zero character.
      if (decoded.indexOf(0) < 0) {
        return decoded;
      }
    } catch (IllegalArgumentException broken) {
      // Told below, like a zero character.
    }
    throw PageRefusal.of(
        IssueCode.BAD_PARAMETER,
        "The text \""
            + Shortened.text(text)
            + "\" cannot be decoded; expected percent-encoded UTF-8 without a zero character.");
  }

  /** A value as it stands in an address. */
  public static String encode(String value) {
    return URLEncoder.encode(value, StandardCharsets.UTF_8);
  }
}
