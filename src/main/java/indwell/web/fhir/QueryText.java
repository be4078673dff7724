package indwell.web.fhir;

import java.io.ByteArrayOutputStream;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Reads and writes the percent-encoded parts of a URL (RFC 3986), strictly in UTF-8. */
final class QueryText {
  private static final String UNRESERVED = "-._~";

  private QueryText() {}

  /** One parameter, decoded. */
  record Parameter(String name, String value) {}

  /** The same as names and values. */
  static List<Map.Entry<String, String>> entries(List<Parameter> parameters) {
    return parameters.stream().map(one -> Map.entry(one.name(), one.value())).toList();
  }

  /** The parameters of a query in their order; empty when one of them cannot be decoded. */
  static Optional<List<Parameter>> parameters(String query) {
    List<Parameter> parameters = new ArrayList<>();
    for (String part : query.split("&", -1)) {
      if (part.isEmpty()) {
        continue;
      }
      int equals = part.indexOf('=');
      Optional<String> name = decode(equals < 0 ? part : part.substring(0, equals), true);
      Optional<String> value = decode(equals < 0 ? "" : part.substring(equals + 1), true);
      if (name.isEmpty() || value.isEmpty()) {
        return Optional.empty();
      }
      parameters.add(new Parameter(name.get(), value.get()));
    }
    return Optional.of(parameters);
  }

  /**
   * Decodes one part.
   *
   * @param plusIsSpace as in a query
   * @return empty for a broken escape, for bytes that are no UTF-8, and for a zero character, which
   *     nothing that is stored can hold
   */
  static Optional<String> decode(String text, boolean plusIsSpace) {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream(text.length());
    for (int i = 0; i < text.length(); i++) {
      char c = text.charAt(i);
      if (c == '%') {
        int value = escaped(text, i);
        if (value < 0) {
          return Optional.empty();
        }
        bytes.write(value);
        i += 2;
      } else if (c == '+' && plusIsSpace) {
        bytes.write(' ');
      } else {
        int point = text.codePointAt(i);
        if (point >= Character.MIN_SURROGATE && point <= Character.MAX_SURROGATE) {
          return Optional.empty();
        }
        bytes.writeBytes(Character.toString(point).getBytes(StandardCharsets.UTF_8));
        i += Character.charCount(point) - 1;
      }
    }
    return utf8(bytes.toByteArray());
  }

  private static int escaped(String text, int at) {
    if (at + 2 >= text.length()) {
      return -1;
    }
    int high = Character.digit(text.charAt(at + 1), 16);
    int low = Character.digit(text.charAt(at + 2), 16);
    return high < 0 || low < 0 ? -1 : high * 16 + low;
  }

  private static Optional<String> utf8(byte[] bytes) {
    try {
      return Optional.of(
              StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(bytes)).toString())
          .filter(text -> text.indexOf(0) < 0);
    } catch (CharacterCodingException e) {
      return Optional.empty();
    }
  }

  /** Encodes a name or value for a query. */
  static String encode(String text) {
    StringBuilder encoded = new StringBuilder();
    for (byte one : text.getBytes(StandardCharsets.UTF_8)) {
      char c = (char) (one & 0xff);
      if (isUnreserved(c)) {
        encoded.append(c);
      } else {
        encoded.append('%').append(Character.toUpperCase(Character.forDigit(c >> 4, 16)));
        encoded.append(Character.toUpperCase(Character.forDigit(c & 15, 16)));
      }
    }
    return encoded.toString();
  }

  private static boolean isUnreserved(char c) {
    return (c >= 'a' && c <= 'z')
        || (c >= 'A' && c <= 'Z')
        || (c >= '0' && c <= '9')
        || UNRESERVED.indexOf(c) >= 0;
  }
}
