package indwell.web.page;

import java.util.stream.Collectors;

/** Values of a request as sentences quote them: cut off, and without what cannot be seen. */
public final class Shortened {
  private static final int LONGEST = 80;

  private Shortened() {}

  /** At most 80 characters; control characters as a question mark. */
  public static String text(String value) {
    String visible =
        value
            .codePoints()
            .limit(LONGEST)
            .map(point -> Character.isISOControl(point) ? '?' : point)
            .mapToObj(Character::toString)
            .collect(Collectors.joining());
    return visible.length() < value.length() ? visible + "…" : visible;
  }
}
