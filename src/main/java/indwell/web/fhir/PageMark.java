package indwell.web.fhir;

import indwell.port.SearchOrder;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Base64;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Where the next page of a search starts: behind a resource, whatever is written meanwhile. As text
 * it is base64url of {@code sort/asOf/key/id}; callers take it from a next link and do not read it.
 *
 * @param sort what was sorted by, with a minus sign for descending
 * @param asOf when the first page was asked for, milliseconds since 1970 UTC
 * @param key where the last resource of the page before stands in that order
 * @param id its id
 */
record PageMark(String sort, long asOf, long key, String id) {
  private static final Pattern PLAIN =
      Pattern.compile(
          "(-?[_a-z-]{1,40})/(-?[0-9]{1,19})/(-?[0-9]{1,19})/([A-Za-z0-9.-]{1,64})",
          Pattern.CASE_INSENSITIVE);

  /** The mark as a query holds it. */
  String text() {
    String plain = sort + "/" + asOf + "/" + key + "/" + id;
    return Base64.getUrlEncoder()
        .withoutPadding()
        .encodeToString(plain.getBytes(StandardCharsets.UTF_8));
  }

  /** Reads a mark of a search that is sorted so; empty when it is none. */
  static Optional<PageMark> read(String text, String sort) {
    try {
      Matcher parts =
          PLAIN.matcher(new String(Base64.getUrlDecoder().decode(text), StandardCharsets.UTF_8));
      return parts.matches() && parts.group(1).equals(sort)
          ? Optional.of(
              new PageMark(
                  sort,
                  Long.parseLong(parts.group(2)),
                  Long.parseLong(parts.group(3)),
                  parts.group(4)))
          : Optional.empty();
    } catch (IllegalArgumentException e) {
      return Optional.empty();
    }
  }

  /** The order of a page; of the first one where there is no mark. */
  static SearchOrder order(String sort, Optional<PageMark> mark, Instant now) {
    boolean descending = sort.startsWith("-");
    return new SearchOrder(
        descending ? sort.substring(1) : sort,
        descending,
        mark.map(PageMark::asOf).orElse(now.toEpochMilli()),
        mark.map(one -> OptionalLong.of(one.key())).orElse(OptionalLong.empty()));
  }
}
