package indwell.domain.refusal;

/**
 * Text that others made up, in a form that a sentence can hold: nothing invisible, not too long.
 */
public final class Visible {
  private Visible() {}

  /**
   * The text with everything that cannot be seen written as {@code \} {@code u} and its number; cut
   * off, with an ellipsis, where it is longer than {@code most} code points.
   */
  public static String of(String text, int most) {
    StringBuilder shown = new StringBuilder();
    int points = 0;
    int i = 0;
    while (i < text.length() && points < most) {
      int point = text.codePointAt(i);
      append(shown, point);
      i += Character.charCount(point);
      points++;
    }
    return i < text.length() ? shown.append('…').toString() : shown.toString();
  }

  /**
   * The text as {@link #of} shows it, between quotation marks; one within it is written by its
   * number too, so that it cannot be taken for the end.
   */
  public static String quoted(String text, int most) {
    return '"' + of(text, most).replace("\"", "\\u0022") + '"';
  }

  private static void append(StringBuilder shown, int point) {
    switch (Character.getType(point)) {
      case Character.CONTROL,
          Character.FORMAT,
          Character.SURROGATE,
          Character.UNASSIGNED,
          Character.PRIVATE_USE,
          Character.LINE_SEPARATOR,
          Character.PARAGRAPH_SEPARATOR ->
          shown.append(String.format("\\u%04x", point));
      default -> shown.appendCodePoint(point);
    }
  }
}
