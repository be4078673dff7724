package indwell.web.fhir;

import indwell.port.ChangeQuery.Mark;
import java.nio.charset.StandardCharsets;
import java.util.Base64;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Where the next page of a history starts. As text it is base64url of {@code time/version/type/id};
 * callers take it from a next link and do not read it.
 */
final class ChangeMark {
  private static final Pattern PLAIN =
      Pattern.compile("(-?[0-9]{1,18})/([0-9]{1,9})/([A-Za-z]{1,64}/[A-Za-z0-9.-]{1,64})");

  private ChangeMark() {}

  static String text(Mark mark) {
    String plain = mark.written() + "/" + mark.version() + "/" + mark.reference();
    return Base64.getUrlEncoder()
        .withoutPadding()
        .encodeToString(plain.getBytes(StandardCharsets.UTF_8));
  }

  /** Reads a mark; empty when the text is none. */
  static Optional<Mark> read(String text) {
    try {
      byte[] plain = Base64.getUrlDecoder().decode(text);
      Matcher parts = PLAIN.matcher(new String(plain, StandardCharsets.UTF_8));
      return parts.matches()
          ? Optional.of(
              new Mark(
                  Long.parseLong(parts.group(1)), parts.group(3), Integer.parseInt(parts.group(2))))
          : Optional.empty();
    } catch (IllegalArgumentException e) {
      return Optional.empty();
    }
  }
}
