package indwell.web.fhir;

/** Shows in a sentence what a caller sent, short and without characters that could mislead. */
final class Shown {
  private static final int MOST = 60;

  private Shown() {}

  static String text(String given) {
    StringBuilder shown = new StringBuilder("\"");
    given
        .codePoints()
        .limit(MOST)
        .forEach(
            c -> {
              if (isPlain(c)) {
                shown.appendCodePoint(c);
              } else {
                shown.append(String.format("\\u%04X", c));
              }
            });
    boolean cut = given.codePointCount(0, given.length()) > MOST;
    return shown.append(cut ? "…\"" : "\"").toString();
  }

  private static boolean isPlain(int c) {
    return switch (Character.getType(c)) {
      case Character.CONTROL,
          Character.FORMAT,
          Character.SURROGATE,
          Character.LINE_SEPARATOR,
          Character.PARAGRAPH_SEPARATOR,
          Character.UNASSIGNED,
          Character.PRIVATE_USE ->
          false;
      default -> c != '"';
    };
  }
}
