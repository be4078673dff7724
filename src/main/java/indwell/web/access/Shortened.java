package indwell.web.access;

/** Texts of callers as they stand in a sentence. */
final class Shortened {
  private static final int MOST = 80;

  private Shortened() {}

  /** In quotes, cut off, with whatever cannot be seen left out. */
  static String quoted(String text) {
    String visible = text.replaceAll("[^\\x20-\\x7e]", "?");
    return "\"" + (visible.length() > MOST ? visible.substring(0, MOST) + "..." : visible) + "\"";
  }
}
